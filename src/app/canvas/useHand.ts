import { type RefObject, useEffect } from 'react';
import { createHand } from './hand';

/** Lets the hand work on the sketch. Listeners are the element's own: the wheel must be free to stop the page. */
export function useHand(frame: RefObject<HTMLDivElement | null>): void {
  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const hand = createHand(element);
    element.addEventListener('pointerdown', hand.press);
    element.addEventListener('pointermove', hand.move);
    element.addEventListener('pointerup', hand.release);
    element.addEventListener('pointercancel', hand.abandon);
    element.addEventListener('pointerleave', hand.leave);
    element.addEventListener('dblclick', hand.doublePress);
    element.addEventListener('wheel', hand.wheel, { passive: false });
    return () => {
      element.removeEventListener('pointerdown', hand.press);
      element.removeEventListener('pointermove', hand.move);
      element.removeEventListener('pointerup', hand.release);
      element.removeEventListener('pointercancel', hand.abandon);
      element.removeEventListener('pointerleave', hand.leave);
      element.removeEventListener('dblclick', hand.doublePress);
      element.removeEventListener('wheel', hand.wheel);
    };
  }, [frame]);
}
