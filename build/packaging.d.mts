declare const packaging: {
  readonly electronVersion: string;
  readonly files: readonly string[];
  readonly extraMetadata: { readonly main: string };
  readonly asar: boolean;
  readonly publish: null;
  readonly electronFuses: Readonly<Record<string, boolean>>;
  readonly linux: { readonly target: readonly string[] };
  readonly win: { readonly target: readonly string[] };
  readonly mac: { readonly target: readonly string[]; readonly hardenedRuntime: boolean };
  readonly nsis: { readonly oneClick: boolean; readonly perMachine: boolean };
};
export default packaging;
