import { useEffect, useState } from 'react';

/** Pixels of the screen to a CSS pixel; another number when the window is zoomed or taken to another screen. */
export function useDeviceRatio(): number {
  const [ratio, setRatio] = useState(window.devicePixelRatio);
  useEffect(() => {
    const look = (): void => setRatio(window.devicePixelRatio);
    // The query holds for one ratio alone, so each change asks anew. Not every browser tells of every change: a hand that moves looks, too.
    const asked = window.matchMedia(`(resolution: ${ratio}dppx)`);
    asked.addEventListener('change', look);
    window.addEventListener('resize', look);
    window.addEventListener('pointermove', look, { passive: true });
    return () => {
      asked.removeEventListener('change', look);
      window.removeEventListener('resize', look);
      window.removeEventListener('pointermove', look);
    };
  }, [ratio]);
  return ratio;
}
