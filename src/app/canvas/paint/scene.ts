import type { Design } from '../../../core/design';
import type { Plan } from '../../../core/plan';
import type { Printer } from '../../../core/units';
import type { Overlays } from '../../state/desk';
import type { PressureRamp } from '../shape/pressure';
import { paintAnnotations, paintFindings } from './annotations';
import type { Brush } from './brush';
import { paintGround } from './ground';
import { paintLabels } from './labels';
import { paintDevices, paintPipes } from './pipes';
import { paintPoints } from './points';
import { paintTubing } from './tubing';
import { paintUnderlays } from './underlay';

/** Everything on the sketch except what the pointer is doing. */
export interface Scene {
  readonly plan: Plan;
  readonly design: Design | null;
  readonly ramp: PressureRamp | null;
  readonly overlays: Overlays;
  readonly printer: Printer;
  readonly finding: number | null;
  /** Asked for when a picture has finished loading. */
  readonly repaint: () => void;
}

/** Paints from the ground up, so that nothing buries what lies on it. */
export function paintScene(brush: Brush, scene: Scene): void {
  const { plan, design, printer } = scene;
  brush.context.setLineDash([]);
  paintUnderlays(brush, plan, scene.repaint);
  paintGround(brush, plan);
  if (design) {
    paintTubing(brush, design, scene.ramp, scene.overlays);
  }
  paintPipes(brush, plan, design);
  paintPoints(brush, plan, design, printer);
  if (design) paintDevices(brush, plan, design);
  paintLabels(brush, plan, design, printer);
  paintAnnotations(brush, plan, printer);
  if (design) paintFindings(brush, design, scene.finding);
}
