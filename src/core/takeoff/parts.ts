import type { Catalog } from '../catalog';
import type { Problem } from '../units';
import type { TakeoffLine } from './types';

/** Gathers counted parts into lines, one a part and size, and what the catalogue could not answer. */
export interface PartsList {
  /** Counts a part by what it is used for: the fitting of the catalogue with that id, else the first with that use. */
  readonly countUse: (use: string, count: number, from: readonly string[]) => void;
  /** The same for what is sold by length, in metres. */
  readonly countUseM: (use: string, lengthM: number, from: readonly string[]) => void;
  readonly countPart: (part: CountedPart) => void;
  readonly lines: () => readonly TakeoffLine[];
  readonly problems: () => readonly Problem[];
}

export interface CountedPart {
  readonly id: string;
  readonly name: string;
  readonly unit: TakeoffLine['unit'];
  readonly quantity: number;
  readonly from: readonly string[];
  readonly eachM?: number;
  readonly packOf?: number;
  /** Of one unit; of one pack where it comes in packs; of one metre for tubing, pipe and wire. */
  readonly unitPrice: number | null;
}

interface Gathered {
  readonly part: CountedPart;
  quantity: number;
  readonly from: Set<string>;
}

export function startPartsList(catalog: Catalog): PartsList {
  const gathered = new Map<string, Gathered>();
  const missing = new Map<string, number>();
  const countPart = (part: CountedPart): void => {
    if (part.quantity <= 0) return;
    const key = `${part.id} ${part.eachM ?? ''}`;
    const entry = gathered.get(key) ?? { part, quantity: 0, from: new Set<string>() };
    entry.quantity += part.quantity;
    for (const id of part.from) entry.from.add(id);
    gathered.set(key, entry);
  };
  const count = (use: string, quantity: number, unit: 'each' | 'm', from: readonly string[]): void => {
    if (quantity <= 0) return;
    const fitting =
      catalog.fittings.find((candidate) => candidate.id === use) ??
      catalog.fittings.find((candidate) => candidate.use === use);
    if (!fitting) {
      missing.set(use, (missing.get(use) ?? 0) + quantity);
      return;
    }
    const packOf = unit === 'each' ? fitting.packOf : 1;
    const unitPrice = fitting.order?.price ?? null;
    countPart({ id: fitting.id, name: fitting.name, unit, quantity, from, packOf, unitPrice });
  };
  return {
    countPart,
    countUse: (use, quantity, from) => count(use, quantity, 'each', from),
    countUseM: (use, lengthM, from) => count(use, lengthM, 'm', from),
    lines: () => [...gathered.values()].map(toLine),
    problems: () =>
      [...missing].map(([use, count]) => ({
        code: 'takeoff.part-missing',
        severity: 'warn',
        where: {},
        params: { use, count },
      })),
  };
}

function toLine({ part, quantity, from }: Gathered): TakeoffLine {
  const packOf = part.packOf ?? 1;
  const packs = packOf > 1 ? { count: Math.ceil(quantity / packOf), packOf } : undefined;
  const bought = packs ? packs.count : quantity * (part.eachM ?? 1);
  return {
    part: part.id,
    description: part.name,
    quantity,
    unit: part.unit,
    ...(part.eachM === undefined ? {} : { eachM: part.eachM }),
    ...(packs ? { packs } : {}),
    from: [...from],
    price: part.unitPrice === null ? null : part.unitPrice * bought,
  };
}
