import { placeSteps } from './pen';
import type { DrawingItem, Stroke } from './types';

/** Items drawn larger about the page's corner: pages that have room are set in larger type. Pictures keep their size. */
export function enlarge(items: readonly DrawingItem[], by: number): readonly DrawingItem[] {
  if (by === 1) return items;
  const origin = { x: 0, y: 0 };
  const wider = (stroke: Stroke): Stroke => ({
    ...stroke,
    widthMm: stroke.widthMm * by,
    ...(stroke.dashMm ? { dashMm: stroke.dashMm.map((d) => d * by) } : {}),
  });
  const larger = (item: DrawingItem): DrawingItem => {
    switch (item.kind) {
      case 'path':
        return {
          ...item,
          steps: placeSteps(item.steps, origin, by),
          ...(item.stroke ? { stroke: wider(item.stroke) } : {}),
        };
      case 'text':
        return { ...item, at: { x: item.at.x * by, y: item.at.y * by }, sizeMm: item.sizeMm * by };
      case 'dots':
        return {
          ...item,
          at: item.at.map((p) => ({ x: p.x * by, y: p.y * by })),
          diameterMm: item.diameterMm * by,
        };
      case 'clip':
        return { ...item, steps: placeSteps(item.steps, origin, by), items: enlarge(item.items, by) };
      case 'image':
        return item;
    }
  };
  return items.map(larger);
}
