/** The units a figure may carry inside the program. SI only; conversion happens in `print` and `parse`. */
export type SiUnit =
  | 'm'
  | 'm2'
  | 'm3'
  | 'm3/s'
  | 'm/s'
  | 'm of head'
  | 's'
  | 'rad'
  | 'ratio'
  | 'count'
  | 'K'
  | 'm of water'
  | 'W'
  | 'currency'
  | 'hours of work';

/** A number with its SI unit. `value` is finite. */
export interface Quantity {
  readonly value: number;
  readonly unit: SiUnit;
}

/** Where a figure or a limit comes from, as data: `key` names a published source or one of the honest markers. */
export interface Source {
  /** A short citation ("FAO-56 eq. 6"), or one of "common practice, no source", "from memory", "ours, stated". */
  readonly text: string;
  readonly standing: 'published' | 'from memory' | 'common practice' | 'ours' | 'typical' | 'user';
}

/** A computed figure that can answer "why": its formula, its inputs and its source. Printed by `core/words` and the calculations sheet. */
export interface Traced {
  /** Permanent code of the figure, e.g. `supply.required-source-head`. `core/words` holds its name. */
  readonly code: string;
  readonly result: Quantity;
  /** The formula in plain notation, names as in `inputs`: "rate = flow / (row x spacing)". */
  readonly formula: string;
  readonly inputs: readonly { readonly name: string; readonly quantity: Quantity; readonly from?: string }[];
  readonly source: Source;
}
