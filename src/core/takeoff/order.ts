import type { Catalog } from '../catalog';
import type { Takeoff } from './types';

/** One row of the order to a supplier. Part number, size and thread are the user's own; empty until filled in. */
export interface OrderRow {
  readonly part: string;
  readonly partNumber: string;
  readonly description: string;
  readonly size: string;
  readonly thread: string;
  readonly quantity: number;
  readonly unit: Takeoff['lines'][number]['unit'];
  /** Length of one roll or stick, metres; null where the part has none. */
  readonly eachM: number | null;
  /** Pieces in a pack; null where the part comes singly. */
  readonly packOf: number | null;
  readonly price: number | null;
}

/** What to order: whole rolls, sticks, packs and pieces, with the user's own part numbers where the catalogue has them. */
export function supplierOrder(takeoff: Takeoff, catalog: Catalog): readonly OrderRow[] {
  const parts = new Map(
    Object.values(catalog)
      .flat()
      .map((part) => [part.id, part]),
  );
  return takeoff.lines.map((line) => {
    const part = parts.get(line.part);
    return {
      part: line.part,
      partNumber: part?.order?.partNumber ?? '',
      description: line.description,
      size: part?.order?.size ?? (part?.kind === 'pipe' ? part.nominal : ''),
      thread: part?.order?.thread ?? '',
      quantity: line.packs?.count ?? (line.unit === 'm' ? Math.ceil(line.quantity) : line.quantity),
      unit: line.packs ? 'pack' : line.unit,
      eachM: line.eachM ?? null,
      packOf: line.packs?.packOf ?? null,
      price: line.price,
    };
  });
}
