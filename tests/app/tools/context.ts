import type { ToolContext } from '../../../src/app/tools/tool';
import type { Plan } from '../../../src/core/plan';

/** What a tool is told of the desk, for a plan on its own. */
export const contextFor = (plan: Plan, more: Partial<ToolContext> = {}): ToolContext => ({
  plan,
  sizes: {
    walkWidthM: 1,
    trunkRadiusM: 0.2,
    canopyRadiusM: 2,
    rootBallRadiusM: 0.3,
    obstacleRadiusM: 0.4,
    lineDepthM: 0.6,
    spotElevationM: 0,
    noteText: '',
    giveM: 1,
  },
  selection: [],
  reachM: 0.1,
  routes: () => [],
  newId: (kind) => `${kind}-1`,
  ...more,
});
