/** What several things say of one of their fields: the one value, and whether they all agree on it. */
export function inCommon<T, K extends keyof T>(
  things: readonly T[],
  field: K,
): { readonly value: T[K] | undefined; readonly isMixed: boolean } {
  const value = things[0]?.[field];
  return { value, isMixed: things.some((thing) => !Object.is(thing[field], value)) };
}
