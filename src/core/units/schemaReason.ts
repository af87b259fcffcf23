/** The part of a schema's complaint that a person is told. */
export interface SchemaIssue {
  readonly code?: string | undefined;
  readonly message: string;
  readonly keys?: readonly string[];
}

/** Names of unknown keys that are said one by one, and the most letters of each. */
const MOST_NAMES = 5;
const LONGEST_NAME = 60;
const LONGEST_REASON = 300;

/** Why a schema refuses a value, in words that a person without the schema can use; never longer than a few lines. */
export function schemaReason({ code, message, keys }: SchemaIssue): string {
  if (code === 'unrecognized_keys' && keys) {
    const names = keys.slice(0, MOST_NAMES).map((key) => `"${key.slice(0, LONGEST_NAME)}"`);
    return `not known here: ${names.join(', ')}${keys.length > MOST_NAMES ? ' and more' : ''}`;
  }
  return message.endsWith('received undefined') ? 'it is missing' : message.slice(0, LONGEST_REASON);
}
