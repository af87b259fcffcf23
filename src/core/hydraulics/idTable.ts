/** Places of ids in a list: a hash table in flat arrays, several times quicker to fill than a Map of strings. */
export class IdTable {
  private readonly slots: Int32Array;
  private readonly mask: number;

  /** @param ids the list; an id that stands twice keeps its first place */
  constructor(private readonly ids: readonly { readonly id: string }[]) {
    let size = 16;
    while (size < 2 * ids.length) size *= 2;
    this.mask = size - 1;
    this.slots = new Int32Array(size).fill(-1);
  }

  /** Enters the id at place `i`; false where it stood there before. */
  add(i: number): boolean {
    const { id } = this.ids[i]!;
    const slot = this.slotOf(id);
    if (this.slots[slot]! >= 0) return false;
    this.slots[slot] = i;
    return true;
  }

  /** Place of an id; -1 where there is none. */
  find(id: string): number {
    return this.slots[this.slotOf(id)]!;
  }

  private slotOf(id: string): number {
    let slot = hashOf(id) & this.mask;
    for (;;) {
      const i = this.slots[slot]!;
      if (i < 0 || this.ids[i]!.id === id) return slot;
      slot = (slot + 1) & this.mask;
    }
  }
}

/** Source: the FNV-1a hash, Fowler, Noll and Vo, with a last stir so that low bits take part. */
function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash ^ (hash >>> 15);
}
