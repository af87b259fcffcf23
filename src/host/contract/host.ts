/**
 * The one contract with the outside. Paths never reach the page: a file is a token that the host alone can turn into a place.
 * Every call answers with data; a refusal is a value, not an exception.
 */
export interface FileToken {
  readonly token: string;
  /** What a person calls it: the file's name without its folder. */
  readonly name: string;
}

/** A file the host has read. */
export interface OpenedFile {
  /** Absent where the host cannot write back to the place it read from. */
  readonly file: FileToken | null;
  readonly name: string;
  readonly bytes: Uint8Array;
  /** True where another running program of ours has this file open too: whoever saves second is asked. */
  readonly isOpenElsewhere?: boolean;
}

export type Answer<T> =
  | { readonly kind: 'done'; readonly value: T }
  | { readonly kind: 'cancelled' }
  | { readonly kind: 'refused'; readonly code: string; readonly detail: string };

/** What a chooser offers. */
export interface FileKind {
  /** "Plan", "Picture", "GeoJSON": shown by the chooser. */
  readonly label: string;
  /** Without the dot. */
  readonly extensions: readonly string[];
}

export interface RecentFile extends FileToken {
  /** ISO 8601, from the host's clock. */
  readonly openedAt: string;
}

/** One line of the recovery journal: a command's patches, in order. */
export interface JournalEntry {
  readonly planId: string;
  readonly line: string;
  /** What a person calls the plan: its file, else its title. The last one said names the recovered plan. */
  readonly name?: string;
  /** A line that stands on none before it: the whole plan. A story broken by a full disk goes on only from such a line. */
  readonly begins?: boolean;
}

/** A plan with unsaved work, found at start. */
export interface RecoveredPlan {
  readonly planId: string;
  readonly name: string;
  readonly lines: readonly string[];
}

export interface Host {
  readonly kind: 'window' | 'browser';
  /** Lets a person choose a file and reads it. */
  open(kinds: readonly FileKind[]): Promise<Answer<OpenedFile>>;
  recent(): Promise<readonly RecentFile[]>;
  openRecent(file: FileToken): Promise<Answer<OpenedFile>>;
  /** Writes where the file came from; asks for a place where there is none. */
  save(file: FileToken | null, suggestedName: string, bytes: Uint8Array): Promise<Answer<FileToken | null>>;
  saveAs(suggestedName: string, bytes: Uint8Array): Promise<Answer<FileToken | null>>;
  /** Hands over an output (PDF, DXF, CSV ...), never the plan itself. */
  exportBytes(suggestedName: string, mimeType: string, bytes: Uint8Array): Promise<Answer<null>>;
  /** Sends a finished PDF to the printer's own dialogue. */
  print(pdf: Uint8Array, title: string): Promise<Answer<null>>;
  /** Refused where the disk takes no more: what was done from then on is not kept until a line is taken again. */
  journalAppend(entry: JournalEntry): Promise<Answer<null>>;
  journalRead(): Promise<readonly RecoveredPlan[]>;
  journalClear(planId: string): Promise<void>;
  /** What the desk remembers from one start to the next, by name: that someone was here, the look, the designer's own keys. */
  recall(): Promise<Readonly<Record<string, string>>>;
  /** Remembers one such text; null forgets it. What cannot be kept is lost without harm. */
  remember(name: string, value: string | null): Promise<void>;
  /** The shell's own menu asks for an action of the action table, by key. Returns the way to stop listening. */
  onAction(listener: (actionKey: string) => void): () => void;
  /** The system asks for a file to be opened. */
  onOpenFile(listener: (file: OpenedFile) => void): () => void;
  /** Tells the host whether closing would lose work. */
  setUnsaved(unsaved: boolean, planName: string): void;
}

/** The part of the contract that the desktop shell keeps; what is to be remembered the page's own store keeps there. */
export type ShellHost = Omit<Host, 'recall' | 'remember'>;
