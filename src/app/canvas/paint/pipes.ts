import type { Design } from '../../../core/design';
import type { Polyline } from '../../../core/geometry';
import type { Plan } from '../../../core/plan';
import type { Device } from '../../../core/supply';
import type { SymbolName } from '../../look/symbolShapes';
import { traceChains } from '../shape/trace';
import { type Brush, onPlan, onScreen, pixelsM, placeOnScreen, WEIGHT_PX, weightM } from './brush';
import { linesIn } from './clearPlace';
import { type DevicePlace, devicePlaces } from './devicePlaces';
import { paintSymbol } from './symbol';

const HEADER_PX = 5;
const MAIN_PX = 7;
const SLEEVE_PX = 12;

interface PipePaths {
  readonly main: Path2D;
  readonly header: Path2D;
  readonly sleeves: readonly { readonly path: Polyline }[];
}

const memory = new WeakMap<Design, PipePaths>();

function pipePaths(design: Design): PipePaths {
  const known = memory.get(design);
  if (known) return known;
  const { supply } = design;
  const all = [...supply.main, ...supply.zones.flatMap((zone) => zone.pipes)];
  const paths = {
    main: traceChains(all.filter((pipe) => pipe.role === 'main').map((pipe) => pipe.path)),
    header: traceChains(all.filter((pipe) => pipe.role === 'header').map((pipe) => pipe.path)),
    sleeves: [...supply.sleeves, ...supply.zones.flatMap((zone) => zone.sleeves)],
  };
  memory.set(design, paths);
  return paths;
}

const drawnMemory = new WeakMap<object, Pick<PipePaths, 'main' | 'header'>>();

function drawnPaths({ lockedPipes }: Plan): Pick<PipePaths, 'main' | 'header'> {
  const known = drawnMemory.get(lockedPipes);
  if (known) return known;
  const all = Object.values(lockedPipes);
  const of = (role: 'main' | 'header'): Path2D =>
    traceChains(all.filter((pipe) => pipe.role === role).map((pipe) => pipe.path));
  const paths = { main: of('main'), header: of('header') };
  drawnMemory.set(lockedPipes, paths);
  return paths;
}

/** Hollow carries, full holds: a header is a hollow pipe, a main a hollow pipe with a core. */
export function paintPipes(brush: Brush, plan: Plan, design: Design | null): void {
  const { context, palette } = brush;
  const paths = design ? pipePaths(design) : null;
  const drawn = drawnPaths(plan);
  onPlan(brush);
  context.lineJoin = 'round';
  context.lineCap = 'butt';
  const hollow = (path: Path2D, px: number): void => {
    context.strokeStyle = palette.ink.water;
    context.lineWidth = pixelsM(brush, px);
    context.stroke(path);
    context.strokeStyle = palette.ink.paper;
    context.lineWidth = pixelsM(brush, px) - 2 * weightM(brush, WEIGHT_PX.thin * 1.3);
    context.stroke(path);
  };
  // What is led by hand is seen at once, before the design that joins it to its beds.
  const layers = paths ? [drawn, paths] : [drawn];
  for (const { header } of layers) hollow(header, HEADER_PX);
  for (const { main } of layers) hollow(main, MAIN_PX);
  context.strokeStyle = palette.ink.water;
  context.lineWidth = weightM(brush, WEIGHT_PX.bold);
  for (const { main } of layers) context.stroke(main);
  for (const sleeve of paths?.sleeves ?? []) paintSleeve(brush, sleeve.path);
}

/** Broken lines outside, a collar at each end. */
function paintSleeve(brush: Brush, path: Polyline): void {
  const { context, palette } = brush;
  const [first, last] = [path[0], path.at(-1)];
  if (!first || !last) return;
  const lengthM = Math.hypot(last.x - first.x, last.y - first.y);
  if (lengthM === 0) return;
  const aside = pixelsM(brush, SLEEVE_PX / 2);
  const [nx, ny] = [(-(last.y - first.y) / lengthM) * aside, ((last.x - first.x) / lengthM) * aside];
  context.strokeStyle = palette.ink['ink-2'];
  context.lineWidth = weightM(brush, WEIGHT_PX.thin);
  context.setLineDash([pixelsM(brush, 5), pixelsM(brush, 3)]);
  context.beginPath();
  for (const side of [1, -1]) {
    context.moveTo(first.x + nx * side, first.y + ny * side);
    context.lineTo(last.x + nx * side, last.y + ny * side);
  }
  context.stroke();
  context.setLineDash([]);
  context.lineWidth = weightM(brush, WEIGHT_PX.bold);
  context.beginPath();
  for (const end of [first, last]) {
    context.moveTo(end.x + nx * 1.2, end.y + ny * 1.2);
    context.lineTo(end.x - nx * 1.2, end.y - ny * 1.2);
  }
  context.stroke();
}

const DEVICE_SYMBOLS: Readonly<Partial<Record<Device['kind'], SymbolName>>> = {
  backflow: 'backflow-preventer',
  'valve-assembly': 'valve-assembly',
  'flush-valve': 'flush-valve',
  'air-relief': 'air-relief',
  'drain-point': 'drain-point',
};

const SYMBOL_PX = 17;
/** In a view from further away symbols are small, and stand where they are. */
const SMALL_SYMBOL_PX = 11;
const SMALL_BELOW_PX_PER_M = 9;

const placesMemory = new WeakMap<
  Design,
  { readonly pixelsPerM: number; readonly places: readonly DevicePlace[] }
>();

/** Found once for each design and scale: to pan moves them all alike. */
function placesOf(brush: Brush, plan: Plan, design: Design): readonly DevicePlace[] {
  const { pixelsPerM } = brush.view;
  const known = placesMemory.get(design);
  if (known?.pixelsPerM === pixelsPerM) return known.places;
  const places = devicePlaces(design, pixelsM(brush, SYMBOL_PX), (box) => linesIn(plan, design, box));
  placesMemory.set(design, { pixelsPerM, places });
  return places;
}

/**
 * Parts drawn by symbol, always upright where the symbol has letters or a right way up; one that stands aside is tied to its
 * place. Connections and controllers are drawn with the plan, which places them.
 */
export function paintDevices(brush: Brush, plan: Plan, design: Design): void {
  const { context, palette, view } = brush;
  const isFar = view.pixelsPerM < SMALL_BELOW_PX_PER_M;
  const places = placesOf(brush, plan, design);
  onScreen(brush);
  context.strokeStyle = palette.ink.ink;
  context.fillStyle = palette.ink.ink;
  context.lineWidth = WEIGHT_PX.thin;
  for (const { device, at, isAside } of places) {
    if (!isAside || isFar) continue;
    const [own, aside] = [placeOnScreen(brush, device.at), placeOnScreen(brush, at)];
    context.beginPath();
    context.moveTo(own.x, own.y);
    context.lineTo(aside.x, aside.y);
    context.stroke();
    context.beginPath();
    context.arc(own.x, own.y, 1.8, 0, 2 * Math.PI);
    context.fill();
  }
  for (const { device, at } of places) {
    const symbol = DEVICE_SYMBOLS[device.kind];
    const place = placeOnScreen(brush, isFar ? device.at : at);
    if (symbol)
      paintSymbol(brush, symbol, place, isFar ? SMALL_SYMBOL_PX : SYMBOL_PX, { ink: palette.ink.ink });
    else paintPlainDevice(brush, place);
  }
}

function paintPlainDevice(brush: Brush, at: { x: number; y: number }): void {
  const { context, palette } = brush;
  context.beginPath();
  context.arc(at.x, at.y, 5, 0, 2 * Math.PI);
  context.fillStyle = palette.ink.paper;
  context.fill();
  context.strokeStyle = palette.ink.ink;
  context.lineWidth = WEIGHT_PX.mid;
  context.stroke();
}
