/** Each value the mean of those within a number of places, fewer towards the ends: these stay as they are. */
export function runningMeans(values: readonly number[], most: number): number[] {
  return values.map((_, index) => {
    const half = Math.min(most, index, values.length - 1 - index);
    const near = values.slice(index - half, index + half + 1);
    return near.reduce((sum, value) => sum + value, 0) / near.length;
  });
}
