import type { Design } from '../design';
import { drawingWords as words } from '../words';
import { frameItems, sheetFrame } from './frame';
import { letterPlan } from './lettering';
import { PAPERS, type PaperKey, usualPaper } from './papers';
import { footItems, groundRoom, planBox, planViewItems, viewOf } from './planPage';
import { chooseScale, scaleLabel } from './scales';
import { tiesOf } from './ties';
import type { DrawingList, DrawingPage } from './types';

/** What may be asked of a set; all else comes from the plan. */
export interface SheetOptions {
  readonly paper?: PaperKey | null;
  /** Denominator of the scale; null or absent: the largest that fits. */
  readonly scaleDenominator?: number | null;
}

const LEAST_ROW_MM = 1.8;
const LETTERING_MM = 16;

/** Every layer a sheet may use, in drawing order. */
export const LAYERS = (Object.keys(words.layers) as (keyof typeof words.layers)[]).map((key) => ({
  key,
  name: words.layers[key],
}));

function planSheet(design: Design, options: SheetOptions): DrawingPage {
  const { plan } = design;
  const system = plan.display.units;
  const paper = PAPERS[options.paper ?? plan.display.paper ?? usualPaper(system)];
  const frame = sheetFrame(paper);
  const room = groundRoom(frame.field);
  const box = planBox(design) ?? { minX: 0, minY: 0, maxX: 10, maxY: 10 };
  const rows = design.beds.map((bed) => bed.layout.rowSpacingM).filter((m) => m > 0);
  const chosen = chooseScale({
    system,
    widthM: box.maxX - box.minX,
    heightM: box.maxY - box.minY,
    roomWidthMm: room.widthMm - 2 * LETTERING_MM,
    roomHeightMm: room.heightMm - 2 * LETTERING_MM,
    rowSpacingM: rows.length > 0 ? Math.min(...rows) : 0.45,
    leastRowMm: LEAST_ROW_MM,
  });
  const denominator = options.scaleDenominator ?? plan.display.scaleDenominator ?? chosen.scale.denominator;
  const view = viewOf(box, room, denominator);
  const drawn = planViewItems(design, view, room);
  return {
    key: 'plan',
    title: words.pages.plan,
    label: '1',
    widthMm: paper.widthMm,
    heightMm: paper.heightMm,
    scaleDenominator: denominator,
    items: [
      drawn,
      ...letterPlan(design, view, room, [drawn], tiesOf(design)).items,
      ...footItems(frame.field, denominator, system, plan.georeference?.bearingRad ?? 0),
      ...frameItems(frame, {
        plan,
        sheetTitle: words.pages.plan,
        scaleText: scaleLabel(denominator, system),
        paperName: paper.name,
        unitsText: words.units[system],
        label: '1',
        ofPages: 1,
      }),
    ],
  };
}

/** The install set of a design, page by page, in paper millimetres. The same design gives the same list. */
export function drawSheetSet(design: Design, options: SheetOptions = {}): DrawingList {
  const { project } = design.plan;
  return {
    title: project.title,
    author: project.designer,
    subject: words.pages.plan,
    keywords: ['drip', 'irrigation', 'install sheet'],
    layers: LAYERS,
    pages: [planSheet(design, options)],
  };
}
