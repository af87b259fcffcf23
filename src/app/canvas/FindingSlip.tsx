import type { ReactElement } from 'react';
import { planToScreen } from '../../core/geometry';
import { Finding } from '../parts/Finding';
import { useDesk } from '../state/desk';
import { spotOfFinding } from '../state/findings';
import { useView } from '../state/view';

/** Room for the north mark in the corner above. */
const NORTH_MARK_PX = 84;

/** The thread begins this far inside the slip, which covers its end. */
const KNOT_PX = { aside: 24, down: 110 };

/** The explanation of the open finding: a slip tied by a line to the spot. */
export function FindingSlip(): ReactElement | null {
  const index = useDesk((state) => state.finding);
  const design = useDesk((state) => state.design);
  const finding = index === null ? undefined : design?.findings[index];
  const { view, widthPx, heightPx } = useView();
  if (!design || !finding) return null;
  const place = spotOfFinding(design, finding);
  // What is about nothing drawn is explained on the page.
  if (place === null) return null;
  const spot = planToScreen(place, view);
  // The slip keeps to the half of the sketch that its spot is not in.
  const isSpotLow = spot.y > heightPx * 0.45;
  const isSpotLeft = spot.x < widthPx * 0.5;
  const slipWidth = Math.min(440, widthPx - 40);
  const left = isSpotLeft ? widthPx - slipWidth - 24 : 24;
  const top = isSpotLeft ? NORTH_MARK_PX : 24;
  // Straight from the slip's near side to the spot: a bent thread crossed more of the plan.
  const knot = {
    x: isSpotLeft ? left + KNOT_PX.aside : left + slipWidth - KNOT_PX.aside,
    y: isSpotLow ? top + KNOT_PX.down : heightPx - 24 - KNOT_PX.down,
  };
  return (
    <div className="finding-layer">
      <svg className={`tie tie-${finding.severity}`} width={widthPx} height={heightPx} aria-hidden="true">
        <path d={`M${knot.x} ${knot.y}L${spot.x} ${spot.y}`} />
      </svg>
      <section
        className={`slip finding-slip slip-${finding.severity}`}
        aria-label="Finding"
        data-role="finding"
        tabIndex={-1}
        style={{
          left,
          width: slipWidth,
          ...(isSpotLow ? { top } : { bottom: 24 }),
        }}
      >
        <Finding finding={finding} />
      </section>
    </div>
  );
}
