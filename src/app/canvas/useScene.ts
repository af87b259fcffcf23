import { useMemo, useRef } from 'react';
import { shownPlan, useDesk } from '../state/desk';
import { usePrinter } from '../state/units';
import type { Scene } from './paint/scene';
import { pressureRamp } from './shape/pressure';

/** What the sketch paints; the same object as long as nothing it shows has changed. */
export function useScene(repaint: () => void): Scene {
  const plan = useDesk(shownPlan);
  const design = useDesk((state) => state.design);
  const overlays = useDesk((state) => state.overlays);
  const finding = useDesk((state) => state.finding);
  const printer = usePrinter();
  const again = useRef(repaint);
  again.current = repaint;
  const ramp = useMemo(() => (design ? pressureRamp(design, printer.system) : null), [design, printer]);
  return useMemo(
    () => ({ plan, design, ramp, overlays, printer, finding, repaint: () => again.current() }),
    [plan, design, ramp, overlays, printer, finding],
  );
}
