import { type ReactElement, useEffect, useRef } from 'react';
import { PAGE_ACTS } from '../actions/table';
import { Act } from '../parts/Act';
import { Contents } from '../parts/Contents';
import { StepFindings } from '../parts/StepFindings';
import { type Step, useDesk } from '../state/desk';
import { STEP_NAMES } from '../wording';
import { BedsPage } from './BedsPage';
import { ReviewPage } from './ReviewPage';
import { SheetPage } from './SheetPage';
import { SitePage } from './SitePage';
import { TubingPage } from './TubingPage';
import { WaterPage } from './WaterPage';
import { ZonesPage } from './ZonesPage';

const PAGES: Readonly<Record<Step, () => ReactElement>> = {
  site: SitePage,
  water: WaterPage,
  beds: BedsPage,
  tubing: TubingPage,
  zones: ZonesPage,
  review: ReviewPage,
  sheet: SheetPage,
};

/** The figures page of the open step: its acts at the head, its figures on ruled lines. */
export function Figures(): ReactElement {
  const step = useDesk((state) => state.step);
  const Page = PAGES[step];
  const page = useRef<HTMLElement>(null);
  // Another page begins at its head, wherever the last one was left.
  // biome-ignore lint/correctness/useExhaustiveDependencies: another step is the reason to go to the head
  useEffect(() => {
    page.current?.scrollTo(0, 0);
  }, [step]);
  return (
    <aside ref={page} className="figures" aria-label={`Figures: ${STEP_NAMES[step]}`}>
      <h1>{STEP_NAMES[step]}</h1>
      <div className="acts" role="toolbar" aria-label="Acts">
        {PAGE_ACTS[step].map((action, index) => (
          <Act key={action} action={action} number={index + 1} />
        ))}
      </div>
      {step === 'review' ? null : <StepFindings step={step} />}
      <Page />
      <Contents />
    </aside>
  );
}
