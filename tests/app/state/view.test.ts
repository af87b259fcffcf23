import { afterEach, describe, expect, it } from 'vitest';
import { showBox, useView } from '../../../src/app/state/view';

const before = useView.getState();
afterEach(() => useView.setState(before));

/** Where a place of the plan comes to lie, CSS pixels from the sketch's upper left corner. */
function seen(x: number, y: number): { x: number; y: number } {
  const { screen, pixelsPerM } = useView.getState().view;
  return { x: screen.x + x * pixelsPerM, y: screen.y - y * pixelsPerM };
}

// The sketch of a window of 1440 x 900, and the legend measured there: 320 x 90 px in the lower right corner.
const SKETCH = { widthPx: 956, heightPx: 784 };
const LEGEND = { left: 956 - 320, top: 784 - 90 };

describe('the whole plan shown', () => {
  it('stands clear of the legend, whatever its shape, and inside the sketch', () => {
    for (const [wideM, highM] of [
      [40, 10],
      [30, 26],
      [20, 20],
      [10, 40],
      [3, 60],
    ] as const) {
      useView.setState(SKETCH);
      showBox({ minX: -5, minY: 2, maxX: wideM - 5, maxY: highM + 2 });
      const low = seen(wideM - 5, 2);
      const high = seen(-5, highM + 2);
      expect(low.x <= LEGEND.left || low.y <= LEGEND.top).toBe(true);
      expect(Math.min(high.x, high.y)).toBeGreaterThan(40);
      expect(low.x).toBeLessThan(SKETCH.widthPx - 40);
      expect(low.y).toBeLessThan(SKETCH.heightPx - 40);
    }
  });

  it('loses no size to the legend where the plan is flat and leaves room under it anyway', () => {
    useView.setState(SKETCH);
    showBox({ minX: 0, minY: 0, maxX: 40, maxY: 10 });
    // 956 px less 64 px of margin on either side, over 40 m
    expect(useView.getState().view.pixelsPerM).toBeCloseTo((956 - 128) / 40, 9);
  });
});
