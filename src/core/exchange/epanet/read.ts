import type { EmitterLaw } from '../../catalog';
import type { HydraulicConstants, Network, NetworkLink, NetworkNode, Outlet } from '../../hydraulics';
import type { Outcome, Place, Problem } from '../../units';
import { readOptions } from './options';
import { type Reading, readNumber, sayAt } from './reading';
import { type DataLine, type Sections, splitSections } from './sections';
import { type ConstantsProfile, EPANET_VISCOSITY_M2S, fileUnits } from './units';
import { readValve } from './valves';

/** A network file as the solver takes it. */
export interface InpNetwork {
  readonly title: string;
  readonly network: Network;
  /** A second outlet at a junction that has both an emitter and a pressure-driven demand. */
  readonly outlets: readonly Outlet[];
  readonly constants: HydraulicConstants;
}

/** How a network file is to be read. */
export interface InpOptions {
  readonly fileName: string;
  /** Absent: EPANET's own. */
  readonly profile?: ConstantsProfile;
}

const MOST_CHARACTERS = 20_000_000;
/** Kinds of section whose presence changes the answer and which this reader does not take. */
const REFUSED_SECTIONS = ['TANKS', 'PUMPS', 'PATTERNS', 'CONTROLS', 'RULES', 'LEAKAGE'];
const LEAST_PRESSURE_SPAN = 0.1;

/**
 * Reads an EPANET network file: junctions, reservoirs, pipes, emitters, pressure-reducing and general-purpose valves
 * with curves, demands (fixed or pressure-driven), statuses and options; US and SI units; Hazen-Williams and
 * Darcy-Weisbach. Whatever else would change the answer (pumps, tanks, patterns, rules, controls, leakage, other valves,
 * check-valve pipes) is refused by name, with its line.
 *
 * Source: EPANET 2.2 user manual, appendix C; units and constants as in OWA-EPANET's source.
 */
export function readInp(text: string, fileOptions: InpOptions): Outcome<InpNetwork> {
  const refuse = (code: string): Outcome<InpNetwork> => ({
    ok: false,
    problems: [{ code, severity: 'stop', where: { file: fileOptions.fileName }, params: {} }],
  });
  if (text.length > MOST_CHARACTERS) return refuse('exchange.inp-too-large');
  const { sections, unknown } = splitSections(text, fileOptions.fileName);
  if (sections.size === 0) return refuse('exchange.inp-not-a-network');
  const problems: Problem[] = sectionProblems(sections, unknown);
  const options = readOptions(sections, problems);
  const { flowUnit, pressureUnit, specificGravity, viscosity } = options;
  const units = fileUnits(flowUnit, pressureUnit, specificGravity, fileOptions.profile ?? 'epanet');
  const reading: Reading = { sections, options, units, problems };
  const { nodes, outlets } = readNodes(reading);
  const links = readLinks(reading, nodes);
  if (nodes.size === 0) return refuse('exchange.inp-no-nodes');
  if (problems.some((problem) => problem.severity === 'stop')) return { ok: false, problems };
  const title = (sections.get('TITLE') ?? []).map((line) => line.words.join(' ')).join('\n');
  const kinematicViscosityM2s =
    viscosity > 1e-3 ? viscosity * EPANET_VISCOSITY_M2S : viscosity * units.lengthM * units.lengthM;
  const network = { nodes: [...nodes.values()].map(({ node }) => node), links, kinematicViscosityM2s };
  return { ok: true, value: { title, network, outlets, constants: units.constants }, problems };
}

/** Sections that mean nothing, sections that are not taken, and times beyond the first moment. */
function sectionProblems(sections: Sections, unknown: readonly DataLine[]): Problem[] {
  const problems: Problem[] = unknown.map(({ words, where }) => ({
    code: 'exchange.inp-unknown-section',
    severity: 'warn',
    where,
    params: { text: words.join(' ') },
  }));
  for (const name of REFUSED_SECTIONS) {
    const [first] = sections.get(name) ?? [];
    if (first === undefined) continue;
    const params = { section: name.toLowerCase() };
    problems.push({ code: 'exchange.inp-refuses-section', severity: 'stop', where: first.where, params });
  }
  noteLaterHours(sections, problems);
  return problems;
}

/** Only the first moment of a longer simulation is a steady state. */
function noteLaterHours(sections: Sections, problems: Problem[]) {
  for (const { words, where } of sections.get('TIMES') ?? []) {
    if (words[0]?.toUpperCase() !== 'DURATION' || /^[0:.]*$/.test(words[1] ?? '')) continue;
    problems.push({ code: 'exchange.inp-one-moment', severity: 'warn', where, params: {} });
  }
}

interface ReadNode {
  readonly node: NetworkNode;
  readonly where: Place;
}

function readNodes(reading: Reading): { nodes: Map<string, ReadNode>; outlets: readonly Outlet[] } {
  const { sections, units, problems } = reading;
  const nodes = new Map<string, ReadNode>();
  const outlets: Outlet[] = [];
  const demands = readDemands(reading);
  const emitters = readEmitters(reading);
  const add = (node: NetworkNode, where: Place) => {
    if (nodes.has(node.id)) sayAt(reading, where, 'double-id', node.id);
    nodes.set(node.id, { node, where });
  };
  for (const { words, where } of sections.get('JUNCTIONS') ?? []) {
    const [id, elevation, demand, pattern] = words;
    if (pattern !== undefined) sayAt(reading, where, 'refuses-pattern', pattern);
    const elevationM =
      elevation === undefined ? 0 : readNumber(elevation, where, problems, 'elevation') * units.lengthM;
    const given = demand === undefined ? 0 : readNumber(demand, where, problems, 'demand');
    const demandM3s = (demands.get(id!) ?? given) * reading.options.demandMultiplier * units.flowM3s;
    const driven = reading.options.isPressureDriven && demandM3s > 0 ? drivenLaw(reading, demandM3s) : null;
    const emitter = emitters.get(id!);
    if (driven !== null && emitter !== undefined) outlets.push({ nodeId: id!, law: driven });
    const law = emitter ?? driven;
    add(
      {
        id: id!,
        elevationM,
        ...(law === null || law === undefined ? {} : { emitter: law }),
        ...(driven === null && demandM3s !== 0 ? { demandM3s } : {}),
      },
      where,
    );
  }
  for (const { words, where } of sections.get('RESERVOIRS') ?? []) {
    const [id, head, pattern] = words;
    if (pattern !== undefined) sayAt(reading, where, 'refuses-pattern', pattern);
    const fixedHeadM = readNumber(head, where, problems, 'head') * units.lengthM;
    add({ id: id!, elevationM: fixedHeadM, fixedHeadM }, where);
  }
  for (const name of ['DEMANDS', 'EMITTERS'])
    for (const { words, where } of sections.get(name) ?? [])
      if (words[0]!.toUpperCase() !== 'MULTIPLY' && nodes.get(words[0]!)?.node.fixedHeadM !== undefined)
        sayAt(reading, where, 'unknown-id', words[0]!);
      else if (words[0]!.toUpperCase() !== 'MULTIPLY' && !nodes.has(words[0]!))
        sayAt(reading, where, 'unknown-id', words[0]!);
  return { nodes, outlets };
}

/** Demands of the DEMANDS section outrank those of the junctions; several at one junction add up. */
function readDemands(reading: Reading): ReadonlyMap<string, number> {
  const demands = new Map<string, number>();
  for (const { words, where } of reading.sections.get('DEMANDS') ?? []) {
    const [id, demand, pattern] = words;
    if (id!.toUpperCase() === 'MULTIPLY') {
      sayAt(reading, where, 'refuses-option', words.join(' '));
      continue;
    }
    if (pattern !== undefined) sayAt(reading, where, 'refuses-pattern', pattern);
    demands.set(id!, (demands.get(id!) ?? 0) + readNumber(demand, where, reading.problems, 'demand'));
  }
  return demands;
}

function readEmitters(reading: Reading): ReadonlyMap<string, EmitterLaw> {
  const { units, options, problems } = reading;
  const emitters = new Map<string, EmitterLaw>();
  for (const { words, where } of reading.sections.get('EMITTERS') ?? []) {
    const coefficient = readNumber(words[1], where, problems, 'coefficient');
    if (coefficient < 0) sayAt(reading, where, 'bad-number', words[1]!);
    if (coefficient <= 0) continue;
    emitters.set(words[0]!, {
      kind: 'power',
      nominalFlowM3s: coefficient * units.flowM3s,
      nominalHeadM: units.pressureM,
      exponent: options.emitterExponent,
      ...unlimited,
    });
  }
  return emitters;
}

const unlimited = { variationCv: 0, minHeadM: 0, maxHeadM: Number.MAX_VALUE };

/**
 * A pressure-driven demand: q = D ((p - pmin) / (preq - pmin))^e up to full demand at the required pressure; with EPANET's
 * constants also the little it lets through beyond.
 */
function drivenLaw({ options, units }: Reading, demandM3s: number): EmitterLaw {
  const required = Math.max(options.requiredPressure, options.minimumPressure + LEAST_PRESSURE_SPAN);
  return {
    kind: 'compensating',
    nominalFlowM3s: demandM3s,
    thresholdHeadM: required * units.pressureM,
    belowExponent: options.pressureExponent,
    plateauSlopePerM: units.overflowM2s / demandM3s,
    openHeadM: options.minimumPressure * units.pressureM,
    ...unlimited,
  };
}

function readLinks(reading: Reading, nodes: ReadonlyMap<string, ReadNode>): readonly NetworkLink[] {
  const { sections } = reading;
  const links = new Map<string, NetworkLink>();
  const closed = readStatuses(reading);
  const add = (link: NetworkLink | null, where: Place) => {
    if (link === null) return;
    if (links.has(link.id)) sayAt(reading, where, 'double-id', link.id);
    for (const end of [link.from, link.to]) if (!nodes.has(end)) sayAt(reading, where, 'unknown-id', end);
    links.set(link.id, closed.has(link.id) ? { ...link, isClosed: closed.get(link.id)! } : link);
  };
  for (const line of sections.get('PIPES') ?? []) add(readPipe(reading, line), line.where);
  for (const line of sections.get('VALVES') ?? []) add(readValve(reading, line, closed), line.where);
  for (const { words, where } of sections.get('STATUS') ?? [])
    if (!links.has(words[0]!)) sayAt(reading, where, 'unknown-id', words[0]!);
  return [...links.values()];
}

/** Links the STATUS section opens (false) or closes (true). */
function readStatuses(reading: Reading): ReadonlyMap<string, boolean> {
  const closed = new Map<string, boolean>();
  for (const { words, where } of reading.sections.get('STATUS') ?? []) {
    const status = words[1]?.toUpperCase();
    if (status === 'OPEN' || status === 'CLOSED') closed.set(words[0]!, status === 'CLOSED');
    else sayAt(reading, where, 'refuses-option', words.join(' '));
  }
  return closed;
}

function readPipe(reading: Reading, { words, where }: DataLine): NetworkLink | null {
  const { units, options, problems } = reading;
  const [id, from, to, length, diameter, roughness, ...rest] = words;
  const number = (word: string | undefined, what: string) => readNumber(word, where, problems, what);
  const status = rest.find((word) => /^[a-z]/i.test(word))?.toUpperCase() ?? 'OPEN';
  const loss = rest.find((word) => !/^[a-z]/i.test(word));
  if (status !== 'OPEN' && status !== 'CLOSED') {
    sayAt(reading, where, status === 'CV' ? 'refuses-check-valve' : 'refuses-option', `${id} ${status}`);
    return null;
  }
  const figure = number(roughness, 'roughness');
  return {
    kind: 'pipe',
    id: id!,
    from: from ?? '',
    to: to ?? '',
    lengthM: number(length, 'length') * units.lengthM,
    insideDiameterM: number(diameter, 'diameter') * units.diameterM,
    friction:
      options.headloss === 'H-W'
        ? { kind: 'hazen-williams', c: figure }
        : { kind: 'darcy-weisbach', absoluteRoughnessM: figure * units.roughnessM, turbulent: 'swamee-jain' },
    lossK: loss === undefined ? 0 : number(loss, 'minor loss'),
    ...(status === 'CLOSED' ? { isClosed: true } : {}),
  };
}
