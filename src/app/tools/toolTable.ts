import { copyCommand, dimensionCommand, mirrorCommand, moveCommand, turnCommand } from './arrange';
import {
  areaOf,
  bedFromCorners,
  bedFromRing,
  boulderAt,
  controllerAt,
  fenceFromPath,
  headerFromPath,
  holeFromCorners,
  loopFromCorners,
  mainFromPath,
  noteAt,
  plantAt,
  sourceAt,
  spotAt,
  stubUpAt,
  treeAt,
  utilityFromPath,
  valveAt,
  walkFromPath,
} from './build';
import { discTool } from './disc';
import { measureTool } from './measure';
import { outlineTool } from './outline';
import { pathTool } from './path';
import { placeTool } from './place';
import { pullTool } from './pull';
import { rectangleTool } from './rectangle';
import { splitTool } from './split';
import type { Tool } from './tool';
import { twoPointTool } from './twoPoints';

/** Every tool that draws or arranges, by key. Choosing is what the desk does when no tool is out. */
export const TOOLS = {
  rectangle: rectangleTool('bed', bedFromRing) as Tool<unknown>,
  outline: outlineTool('bed', bedFromCorners) as Tool<unknown>,
  hole: outlineTool('hole', holeFromCorners) as Tool<unknown>,
  building: outlineTool('building', areaOf('building', 'House')) as Tool<unknown>,
  paving: outlineTool('paving', areaOf('paving', 'Paving')) as Tool<unknown>,
  'obstacle-area': outlineTool('obstacle', areaOf('obstacle', 'Obstacle')) as Tool<unknown>,
  walk: pathTool('walk', walkFromPath, (context) => context.sizes.walkWidthM) as Tool<unknown>,
  fence: pathTool('fence', fenceFromPath) as Tool<unknown>,
  utility: pathTool('buried line', utilityFromPath) as Tool<unknown>,
  header: pathTool('header', headerFromPath) as Tool<unknown>,
  main: pathTool('main', mainFromPath) as Tool<unknown>,
  boulder: discTool('boulder', 'the boulder', (c) => c.sizes.obstacleRadiusM, boulderAt) as Tool<unknown>,
  tree: discTool('tree', 'its canopy', (c) => c.sizes.canopyRadiusM, treeAt) as Tool<unknown>,
  plant: discTool('plant', 'its root ball', (c) => c.sizes.rootBallRadiusM, plantAt) as Tool<unknown>,
  spot: placeTool('Place a spot of known height; its height stands on the page.', spotAt) as Tool<unknown>,
  source: placeTool('Place the connection to the water.', sourceAt, true) as Tool<unknown>,
  valve: placeTool('Place a valve assembly.', valveAt) as Tool<unknown>,
  controller: placeTool('Place the controller.', controllerAt, true) as Tool<unknown>,
  'stub-up': placeTool('Place the stub-up on the edge of the chosen bed.', stubUpAt, true) as Tool<unknown>,
  split: splitTool as Tool<unknown>,
  measure: measureTool as Tool<unknown>,
  pull: pullTool as Tool<unknown>,
  loop: outlineTool('loop', loopFromCorners) as Tool<unknown>,
  dimension: twoPointTool(
    { first: 'Place one end of the dimension.', second: 'Place the other end.' },
    dimensionCommand,
  ) as Tool<unknown>,
  note: twoPointTool(
    { first: 'Place what the note points to.', second: 'Place the words.' },
    noteAt,
  ) as Tool<unknown>,
  move: twoPointTool(
    {
      first: 'Place where to take hold of what is chosen.',
      second: 'Place where it goes, or write a length.',
    },
    moveCommand,
    true,
  ) as Tool<unknown>,
  copy: twoPointTool(
    { first: 'Place where to take hold of what is chosen.', second: 'Place where the copy goes.' },
    copyCommand,
  ) as Tool<unknown>,
  turn: twoPointTool(
    {
      first: 'Place the point to turn about.',
      second: 'Place where east shall point, or write a length and a direction.',
    },
    turnCommand,
    true,
  ) as Tool<unknown>,
  mirror: twoPointTool(
    { first: 'Place one end of the mirror line.', second: 'Place the other end.' },
    mirrorCommand,
    true,
  ) as Tool<unknown>,
} as const;

export type ToolKey = keyof typeof TOOLS;
