import type { EmitterLaw } from '../../catalog';
import {
  deviceHeadM,
  emitterFlowM3s,
  type Network,
  type NetworkLink,
  type NetworkNode,
  solveNetwork,
  stillHeadM,
  supplyHeadM,
} from '../../hydraulics';
import { readInp } from './read';
import { EPANET_VISCOSITY_M2S } from './units';

/** What the writer needs of a zone. */
export interface InpZone {
  readonly name: string;
  readonly network: Network;
  /** Zone flow: curves are laid out well past it. */
  readonly flowM3s: number;
}

const SMOOTH_PLASTIC_ROUGHNESS_M = 1.5e-6;
const LITRES_PER_MINUTE = 60_000;
const CURVE_POINTS = 24;
const STILL_EXPONENT = 0.5;

/**
 * One zone as an EPANET network file that EPANET really solves: the comparison profile. SI units (L/min, m, mm),
 * Darcy-Weisbach throughout; compensating emitters as pressure-driven demands, full at their threshold; other emitters
 * as emitters; regulators as pressure-reducing valves; devices and the supply curve as general-purpose valves with
 * curves. Where the program's own model is finer, the header says so.
 *
 * Two files of one zone are the same to the byte. A zone with no source is written as it stands.
 */
export function writeZoneInp(zone: InpZone): string {
  const { network } = zone;
  const names = shortNames(network);
  const profile = emitterProfile(network);
  const lines: string[] = [];
  const put = (...parts: readonly string[]) => lines.push(...parts);
  put('[JUNCTIONS]', ';ID  Elevation m  Demand L/min');
  for (const node of network.nodes)
    if (node.fixedHeadM === undefined)
      put(`${names.node.get(node.id)} ${figure(node.elevationM)} ${figure(demandOf(node))}`);
  put('', '[RESERVOIRS]', ';ID  Head m');
  for (const node of network.nodes)
    if (node.fixedHeadM !== undefined) put(`${names.node.get(node.id)} ${figure(node.fixedHeadM)}`);
  put('', '[PIPES]', ';ID  From  To  Length m  Bore mm  Roughness mm  Loss K  Status');
  for (const link of network.links) if (link.kind === 'pipe') put(pipeLine(link, names));
  put(...valveSections(zone, names));
  put('', '[EMITTERS]', ';Junction  Coefficient, L/min at 1 m');
  for (const node of network.nodes)
    if (node.emitter?.kind === 'power' && node.fixedHeadM === undefined)
      put(`${names.node.get(node.id)} ${figure(coefficient(node.emitter, profile.exponent))}`);
  put(...options(network, profile), '', '[END]', '');
  const body = lines.join('\n');
  const title = zone.name.replace(/[\r\n;[\]]+/g, ' ').slice(0, 200) || 'zone';
  const notes = [...headerNotes(network, profile), ...changeNotes(network, body, names)];
  return ['[TITLE]', title, '', ...notes.map((note) => `; ${note}`), '', body].join('\n');
}

/** How far the file's plainer model stands from the designing one, both solved here. */
function changeNotes(network: Network, body: string, names: Names): readonly string[] {
  const file = readInp(body, { fileName: 'zone.inp', profile: 'own' });
  const finer = solveNetwork(network);
  if (!file.ok || finer.status !== 'settled') return [];
  const plainer = solveNetwork(file.value.network);
  if (plainer.status !== 'settled') return [];
  const place = new Map(file.value.network.nodes.map((node, i) => [node.id, i]));
  let worstM = 0;
  let finerM3s = 0;
  let plainerM3s = 0;
  network.nodes.forEach((node, i) => {
    if (node.emitter === undefined) return;
    const at = place.get(names.node.get(node.id)!)!;
    worstM = Math.max(worstM, Math.abs(finer.headM[i]! - plainer.headM[at]!));
    finerM3s += finer.outflowM3s[i]!;
    plainerM3s += plainer.outflowM3s[at]!;
  });
  if (plainerM3s === 0) return [];
  const percent = ((finerM3s / plainerM3s - 1) * 100).toFixed(2);
  return [
    `Together this makes the designing model differ by ${percent} % in flow and by at most ${worstM.toFixed(2)} m in pressure at an emitter.`,
  ];
}

/** Fixed digits, so that the file does not change with the engine's last bit; a shorter figure where it is exact. */
function figure(value: number): string {
  return String(Number(value.toPrecision(9)));
}

interface Names {
  readonly node: ReadonlyMap<string, string>;
  readonly link: ReadonlyMap<string, string>;
}

/** EPANET takes ids of up to 31 characters without blanks, quotes or semicolons: longer or other ids are numbered. */
function shortNames(network: Network): Names {
  const shorten = (ids: readonly string[], letter: string) => {
    const areFit = ids.every((id) => /^[A-Za-z0-9_.:/-]{1,31}$/.test(id));
    return new Map(ids.map((id, i) => [id, areFit ? id : `${letter}${i + 1}`]));
  };
  return {
    node: shorten(
      network.nodes.map((node) => node.id),
      'N',
    ),
    link: shorten(
      network.links.map((link) => link.id),
      'L',
    ),
  };
}

/** EPANET has one exponent and one required pressure for the whole file: those of most emitters, the first on a tie. */
interface EmitterProfile {
  readonly compensating: Extract<EmitterLaw, { kind: 'compensating' }> | null;
  readonly exponent: number;
  readonly hasOtherThresholds: boolean;
  readonly hasOtherExponents: boolean;
  readonly isPressureDriven: boolean;
}

function emitterProfile(network: Network): EmitterProfile {
  const laws = network.nodes.flatMap((node) => (node.emitter === undefined ? [] : [node.emitter]));
  const compensating = laws.filter((law) => law.kind === 'compensating');
  const power = laws.filter((law) => law.kind === 'power');
  const drivenKey = (law: (typeof compensating)[number]) =>
    `${law.thresholdHeadM} ${law.belowExponent} ${law.openHeadM ?? 0}`;
  const driven = mostCommon(compensating, drivenKey);
  const common = mostCommon(power, (law) => String(law.exponent));
  return {
    compensating: driven,
    exponent: common?.exponent ?? STILL_EXPONENT,
    hasOtherThresholds: driven !== null && compensating.some((law) => drivenKey(law) !== drivenKey(driven)),
    hasOtherExponents: power.some((law) => law.exponent !== common?.exponent),
    isPressureDriven: driven !== null,
  };
}

function mostCommon<Item>(items: readonly Item[], keyOf: (item: Item) => string): Item | null {
  const counts = new Map<string, number>();
  for (const item of items) counts.set(keyOf(item), (counts.get(keyOf(item)) ?? 0) + 1);
  let best: Item | null = null;
  for (const item of items)
    if (best === null || counts.get(keyOf(item))! > counts.get(keyOf(best))!) best = item;
  return best;
}

function demandOf(node: NetworkNode): number {
  const driven = node.emitter?.kind === 'compensating' ? node.emitter.nominalFlowM3s : 0;
  return ((node.demandM3s ?? 0) + driven) * LITRES_PER_MINUTE;
}

/** L/min at 1 m with the file's exponent; a law of another exponent is matched at its nominal head. */
function coefficient(law: Extract<EmitterLaw, { kind: 'power' }>, exponent: number): number {
  return (
    (emitterFlowM3s(law, law.nominalHeadM) * LITRES_PER_MINUTE) /
    (law.nominalHeadM - (law.openHeadM ?? 0)) ** exponent
  );
}

function pipeLine(link: Extract<NetworkLink, { kind: 'pipe' }>, names: Names): string {
  const roughnessM =
    link.friction.kind === 'darcy-weisbach' ? link.friction.absoluteRoughnessM : SMOOTH_PLASTIC_ROUGHNESS_M;
  return [
    names.link.get(link.id),
    names.node.get(link.from),
    names.node.get(link.to),
    figure(link.lengthM),
    figure(link.insideDiameterM * 1000),
    figure(roughnessM * 1000),
    figure(link.lossK),
    link.isClosed ? 'Closed' : 'Open',
  ].join(' ');
}

function valveSections(zone: InpZone, names: Names): readonly string[] {
  const valves: string[] = ['', '[VALVES]', ';ID  From  To  Bore mm  Type  Setting  Loss K'];
  const curves: string[] = ['', '[CURVES]', ';ID  Flow L/min  Head loss m'];
  const statuses: string[] = ['', '[STATUS]'];
  let count = 0;
  for (const link of zone.network.links) {
    if (link.kind === 'pipe') continue;
    const ends = `${names.link.get(link.id)} ${names.node.get(link.from)} ${names.node.get(link.to)}`;
    if (link.isClosed) statuses.push(`${names.link.get(link.id)} Closed`);
    if (link.kind === 'regulator') {
      valves.push(`${ends} 25 PRV ${figure(link.setHeadM)} 0`);
      continue;
    }
    const curve = `C${++count}`;
    valves.push(`${ends} 25 GPV ${curve} 0`);
    for (const [flowM3s, headM] of curvePoints(link, zone.flowM3s))
      curves.push(`${curve} ${figure(flowM3s * LITRES_PER_MINUTE)} ${figure(headM)}`);
  }
  return [...valves, ...curves, ...(statuses.length > 2 ? statuses : [])];
}

/** Points of a device's or a supply's loss, close together near the zone's flow; each a little above the last. */
function curvePoints(
  link: Extract<NetworkLink, { kind: 'supply' | 'device' }>,
  zoneFlowM3s: number,
): readonly (readonly [number, number])[] {
  const lossAt = (flowM3s: number) =>
    link.kind === 'supply'
      ? stillHeadM(link.curve) - supplyHeadM(link.curve, flowM3s)
      : deviceHeadM(link.loss, flowM3s);
  const scaleM3s = Math.max(zoneFlowM3s, 1e-5);
  const points: (readonly [number, number])[] = [[0, 0]];
  for (let i = 0; i <= CURVE_POINTS; i++) {
    const share = 0.02 * 150 ** (i / CURVE_POINTS);
    const flowM3s = share * scaleM3s;
    const [lastFlow, lastHead] = points[points.length - 1]!;
    points.push([
      flowM3s,
      Math.max(lossAt(flowM3s), lastHead + 1e-4 * (flowM3s - lastFlow) * LITRES_PER_MINUTE),
    ]);
  }
  return points;
}

function headerNotes(network: Network, profile: EmitterProfile): readonly string[] {
  const notes = [
    'Comparison profile: one steady state, Darcy-Weisbach with Swamee-Jain in every pipe, SI units.',
    'The designing model is finer in these places:',
  ];
  const has = (isSo: (link: NetworkLink) => boolean) => network.links.some(isSo);
  if (has((link) => link.kind === 'pipe' && link.friction.kind === 'hazen-williams'))
    notes.push(
      '- pipes designed with Hazen-Williams stand here with a smooth-plastic roughness of 0.0015 mm',
    );
  if (
    has(
      (link) =>
        link.kind === 'pipe' &&
        link.friction.kind !== 'hazen-williams' &&
        link.friction.turbulent === 'blasius',
    )
  )
    notes.push('- pipes designed with Blasius stand here with Swamee-Jain: up to 0.2 % of flow, 0.6 kPa');
  if (profile.isPressureDriven)
    notes.push(
      '- EPANET lets a pressure-driven demand exceed its full flow by (head - required head) / 1e9 cubic feet a second',
      '- compensating emitters give exactly their nominal flow from their threshold up: no plateau slope, no upper limit',
    );
  if (profile.hasOtherThresholds)
    notes.push('- emitters of several thresholds share the one most of them have, because the file has one');
  if (profile.hasOtherExponents)
    notes.push(
      '- emitters of several exponents share the one most of them have, matched at their nominal pressure',
    );
  for (const link of network.links)
    if (link.kind === 'regulator' && (link.droop > 0 || link.minInletHeadM > link.setHeadM))
      notes.push(
        `- regulator ${link.id.replace(/[\r\n]+/g, ' ')}: droop ${figure(link.droop / LITRES_PER_MINUTE)} m per L/min and least inlet ${figure(link.minInletHeadM)} m are left out`,
      );
  if (has((link) => link.kind === 'device' || link.kind === 'supply'))
    notes.push('- supply and device curves are joined by straight lines between points');
  return notes;
}

function options(network: Network, profile: EmitterProfile): readonly string[] {
  const lines = [
    '',
    '[OPTIONS]',
    'Units LPM',
    'Headloss D-W',
    `Viscosity ${figure(network.kinematicViscosityM2s / EPANET_VISCOSITY_M2S)}`,
    'Specific Gravity 1',
    `Emitter Exponent ${figure(profile.exponent)}`,
    'Trials 500',
    'Accuracy 1e-8',
    'Unbalanced Continue 10',
  ];
  if (profile.compensating !== null)
    lines.push(
      'Demand Model PDA',
      `Minimum Pressure ${figure(profile.compensating.openHeadM ?? 0)}`,
      `Required Pressure ${figure(profile.compensating.thresholdHeadM)}`,
      `Pressure Exponent ${figure(profile.compensating.belowExponent)}`,
    );
  return [...lines, '', '[TIMES]', 'Duration 0', '', '[REPORT]', 'Status No', 'Summary No'];
}
