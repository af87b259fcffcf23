import { typicalCatalog } from '../../../src/core/catalog';
import type { Design, DesignedBed } from '../../../src/core/design';
import type { PlanPoint } from '../../../src/core/geometry';
import { polylineLengthM } from '../../../src/core/geometry';
import type { BedLayout, Run } from '../../../src/core/layout';
import { emptyPlan, type Plan } from '../../../src/core/plan';
import type { Device, HeaderPipe, Zone } from '../../../src/core/supply';
import { takeOff } from '../../../src/core/takeoff';
import { M3S_PER_GPH, METRES_PER_FOOT } from '../../../src/core/units';

const ft = (n: number): number => n * METRES_PER_FOOT;

/** A rectangular bed with one loop going up and down its rows and home along the foot, drawn square-cornered. */
function loopBed(
  mark: string,
  at: PlanPoint,
  widthM: number,
  heightM: number,
  rowM: number,
  insetM: number,
): DesignedBed {
  const dripline = typicalCatalog.driplines[0]!;
  const [left, right] = [at.x + insetM, at.x + widthM - insetM];
  const [bottom, top] = [at.y + insetM, at.y + heightM - insetM];
  const rows = Math.max(2, 2 * Math.floor((right - left) / rowM / 2));
  const step = (right - left) / (rows - 1);
  const path: PlanPoint[] = [{ x: left, y: bottom }];
  for (let i = 0; i < rows; i++) {
    const x = left + i * step;
    const [from, to] = i % 2 === 0 ? [bottom + rowM, top] : [top, bottom + rowM];
    path.push({ x, y: i === 0 ? bottom : from }, { x, y: to });
  }
  path.push({ x: right, y: bottom }, { x: left, y: bottom });
  const lengthM = polylineLengthM(path);
  const emittersM: number[] = [];
  for (let d = dripline.emitterSpacingM / 2; d < lengthM; d += dripline.emitterSpacingM) emittersM.push(d);
  const outline = [
    {
      outer: [
        at,
        { x: at.x + widthM, y: at.y },
        { x: at.x + widthM, y: at.y + heightM },
        { x: at.x, y: at.y + heightM },
      ],
      holes: [],
    },
  ];
  const run: Run = {
    id: `${mark}-loop`,
    role: 'loop',
    closed: true,
    path,
    lengthM,
    emittersM,
    startsAt: path[0]!,
    flushAtM: lengthM / 2,
    minBendRadiusM: 0.15,
    straightFraction: 0.9,
    turns: rows,
  };
  const id = `bed-${mark.toLowerCase()}`;
  const layout: BedLayout = {
    bedId: id,
    status: 'routed',
    areaM2: widthM * heightM,
    usable: outline,
    usableAreaM2: (widthM - 2 * insetM) * (heightM - 2 * insetM),
    outline,
    layout: 'loop',
    nominalRowSpacingM: rowM,
    rowSpacingM: step,
    directionRad: Math.PI / 2,
    stubUp: { x: left, y: at.y },
    runs: [run],
    joins: [{ x: left, y: bottom, runIds: [run.id], fitting: 'stub-up-tee' }],
    coverage: { coveredRatio: 0.98, maxGapM: 0.2, gaps: [], worstPhaseOverlapRatio: 1 },
    chosen: 'loop',
    alternatives: [],
    ruleOfThumbLengthM: (widthM * heightM) / rowM,
    memory: null,
    problems: [],
    verified: {
      passed: true,
      crossings: 0,
      worstClearanceM: insetM,
      separationM: step,
      minBendRadiusM: 0.15,
      closed: true,
      failures: [],
    },
  };
  return {
    id,
    sourceBedId: id,
    name: `Bed ${mark}`,
    mark,
    choice: {
      bedId: id,
      soil: 'loam',
      plants: 'moderate',
      sun: 'full-sun',
      dripline,
      rowSpacingM: rowM,
      rowStretchRatio: 0.15,
      intakeRateMs: 3.5e-6,
      wettedDiameterM: { low: 0.4, high: 0.7 },
      reasons: [],
      traces: [],
    },
    runLimitM: 150,
    layout,
    applicationRateMs: 2.5e-6,
    nominalApplicationRateMs: 2.6e-6,
    zoneId: 'zone-1',
  };
}

function header(id: string, role: 'main' | 'header', path: readonly PlanPoint[]): HeaderPipe {
  return {
    id,
    role,
    path,
    lengthM: polylineLengthM(path),
    pipe: typicalCatalog.pipes[0]!,
    depthM: role === 'main' ? 0.4572 : 0.3048,
    flowM3s: 2.5e-4,
    velocityMs: 0.8,
    headlossM: 0.4,
    locked: false,
  };
}

function zone(
  number: number,
  beds: readonly DesignedBed[],
  at: PlanPoint,
  pipes: readonly HeaderPipe[],
): Zone {
  const runs = beds.flatMap((bed) => bed.layout.runs);
  const count = runs.reduce((sum, run) => sum + run.emittersM.length, 0);
  const run = new Int32Array(count);
  const distanceM = new Float64Array(count);
  let k = 0;
  runs.forEach((r, i) => {
    for (const d of r.emittersM) {
      run[k] = i;
      distanceM[k++] = d;
    }
  });
  const flow = 0.4 * M3S_PER_GPH;
  const headM = new Float64Array(count).map((_, i) => 15.5 - (0.4 * i) / count);
  const devices: Device[] = [
    {
      id: `valve-${number}`,
      kind: 'valve-assembly',
      at,
      angleRad: Math.PI / 2,
      partId: null,
      zoneId: `zone-${number}`,
    },
    ...beds.map((bed) => ({
      id: `flush-${bed.id}`,
      kind: 'flush-valve' as const,
      at: bed.layout.runs[0]!.path[Math.floor(bed.layout.runs[0]!.path.length / 2)]!,
      angleRad: 0,
      partId: null,
      zoneId: `zone-${number}`,
    })),
  ];
  return {
    id: `zone-${number}`,
    number,
    name: `Zone ${number}`,
    zoneKey: null,
    bedIds: beds.map((bed) => bed.id),
    assembly: typicalCatalog.assemblies[0]!,
    assemblyAt: at,
    pipes,
    drawnPipeIds: [],
    sleeves: [],
    devices,
    network: {
      nodes: [
        { id: 'connection', elevationM: 0 },
        { id: 'inlet', elevationM: 0 },
        { id: 'outlet', elevationM: 0 },
      ],
      links: [],
      kinematicViscosityM2s: 1e-6,
    },
    solution: {
      status: 'settled',
      iterations: 8,
      worstResidualM3s: 1e-12,
      worstNodeId: null,
      headM: Float64Array.from([43.2, 38.1, 17.6]),
      outflowM3s: new Float64Array(3),
      flowM3s: new Float64Array(0),
      velocityMs: new Float64Array(0),
      headlossM: new Float64Array(0),
      state: [],
      issues: [],
    },
    emitters: {
      x: new Float64Array(count),
      y: new Float64Array(count),
      run,
      distanceM,
      headM,
      flowM3s: new Float64Array(count).fill(flow),
      runIds: runs.map((r) => r.id),
    },
    flowM3s: count * flow,
    emitterHeadM: { min: 15.1, mean: 15.3, max: 15.5, lowQuarterMean: 15.15 },
    emitterFlowM3s: { min: flow, mean: flow, max: flow, lowQuarterMean: flow },
    worstEmitter: { runId: runs[0]!.id, distanceM: 30, x: 3, y: 3, headM: 15.1 },
    emissionUniformity: 0.93,
    distributionUniformity: 0.97,
    statisticalUniformity: 0.96,
    flush: beds.map((bed) => ({
      at: bed.layout.runs[0]!.path[Math.floor(bed.layout.runs[0]!.path.length / 2)]!,
      runId: bed.layout.runs[0]!.id,
      distanceM: bed.layout.runs[0]!.lengthM / 2,
      flowM3s: 1.2e-4,
      endVelocityMs: 0.32,
      ok: true,
      meetsAtM: bed.layout.runs[0]!.lengthM / 2,
    })),
    flushTogether: 2,
    drains: [],
    requiredSourceHeadM: 31,
    availableSourceHeadM: 42,
    readAt: { afterRegulator: 'outlet', regulatorInlet: 'inlet', connection: 'connection' },
    tubing: { pieces: [], stubUps: [], flush: [] },
    sizingIterations: 2,
    why: [],
    traces: [],
    problems: [],
  };
}

/** A small yard by hand: a house, a walk, a tree, a boulder, three beds on two valves. Figures are plausible, not solved. */
export function fixtureDesign(change: (plan: Plan) => Plan = (p) => p): Design {
  const empty = emptyPlan('plan-1');
  const plan: Plan = change({
    ...empty,
    project: {
      ...empty.project,
      title: 'Plot 7, Tarn Lane',
      place: 'Wendle Hollow',
      designer: 'A. Fitter',
      date: '14 May 2026',
      revisions: [{ mark: 'b', date: '14 May', text: 'sleeve S1 added' }],
    },
    structures: {
      house: {
        id: 'house',
        name: 'House',
        kind: 'building',
        clearanceM: null,
        shape: {
          kind: 'area',
          rings: [
            [
              { x: -2, y: 12 },
              { x: 14, y: 12 },
              { x: 14, y: 18 },
              { x: -2, y: 18 },
            ],
          ],
        },
      },
      walk: {
        id: 'walk',
        name: 'Paved walk',
        kind: 'paving',
        clearanceM: null,
        shape: {
          kind: 'area',
          rings: [
            [
              { x: -2, y: 8.9 },
              { x: 18, y: 8.9 },
              { x: 18, y: 10.3 },
              { x: -2, y: 10.3 },
            ],
          ],
        },
      },
      stone: {
        id: 'stone',
        name: 'Boulder',
        kind: 'obstacle',
        clearanceM: null,
        shape: { kind: 'disc', at: { x: 8.6, y: 1.2 }, radiusM: 0.5 },
      },
    },
    trees: {
      oak: { id: 'oak', name: 'Keep tree', at: { x: 17.5, y: 5.4 }, trunkRadiusM: 0.2, canopyRadiusM: 1.6 },
    },
    sources: {
      tap: {
        id: 'tap',
        name: 'Meter',
        at: { x: 8, y: -2.6 },
        elevationM: null,
        water: 'potable',
        staticHeadM: 43.6,
        lowestStaticHeadM: 40,
        highestStaticHeadM: 50,
        flowTestM3s: 7.8e-4,
        flowTestHeadM: 33.7,
        measuredOn: '14 May, 06:40',
        measuredBy: 'A. Fitter',
        meterSizeM: 0.01905,
        serviceDiameterM: 0.0254,
        serviceLengthM: 12,
        backflowId: null,
        pumpCurve: null,
        pumpCutInHeadM: null,
      },
    },
  });
  const beds = [
    loopBed('A', { x: 0, y: 2.2 }, ft(20), ft(18), ft(1.5), ft(0.25)),
    loopBed('B', { x: 10, y: 2.2 }, ft(18), ft(16), ft(1.5), ft(0.25)),
    loopBed('C', { x: 0, y: 10.4 }, ft(38), ft(5), ft(1.5), ft(0.5)),
  ];
  const [a, b, c] = beds as [DesignedBed, DesignedBed, DesignedBed];
  const zones = [
    zone(1, [a, c], { x: 7.6, y: 0.4 }, [
      header('h1', 'header', [{ x: 7.6, y: 0.4 }, { x: 7.6, y: 1.6 }, { x: 0.3, y: 1.6 }, a.layout.stubUp]),
      header('h2', 'header', [{ x: 7.6, y: 1.6 }, { x: 7.6, y: 8.5 }, { x: 0.3, y: 8.5 }, c.layout.stubUp]),
    ]),
    zone(2, [b], { x: 8.4, y: 0.4 }, [
      header('h3', 'header', [{ x: 8.4, y: 0.4 }, { x: 8.4, y: 1.7 }, { x: 10.3, y: 1.7 }, b.layout.stubUp]),
    ]),
  ];
  return {
    plan,
    catalog: typicalCatalog,
    beds: [a, { ...b, zoneId: 'zone-2' }, c],
    supply: {
      zones,
      main: [
        header('m1', 'main', [
          { x: 8, y: -2.6 },
          { x: 8, y: -0.4 },
        ]),
        header('m2', 'main', [
          { x: 8, y: -0.4 },
          { x: 7.6, y: -0.4 },
          { x: 7.6, y: 0.4 },
        ]),
        header('m3', 'main', [
          { x: 8, y: -0.4 },
          { x: 8.4, y: -0.4 },
          { x: 8.4, y: 0.4 },
        ]),
      ],
      sleeves: [
        {
          id: 'S1',
          path: [
            { x: 0.3, y: 8.6 },
            { x: 0.3, y: 10.4 },
          ],
          lengthM: 1.8,
          pipe: typicalCatalog.pipes[0]!,
          under: 'walk',
          carries: 'pipe',
        },
      ],
      crossings: [],
      devices: [
        {
          id: 'connection',
          kind: 'connection',
          at: { x: 8, y: -2.6 },
          angleRad: Math.PI / 2,
          partId: null,
          zoneId: null,
        },
        {
          id: 'backflow',
          kind: 'backflow',
          at: { x: 8, y: -1.6 },
          angleRad: Math.PI / 2,
          partId: null,
          zoneId: null,
        },
        { id: 'air', kind: 'air-relief', at: { x: 8, y: -0.9 }, angleRad: 0, partId: null, zoneId: null },
      ],
      backflow: null,
      wires: [],
      sourceCurve: [],
      usableFlowM3s: 5.8e-4,
      blocked: [],
      problems: [],
      traces: [],
    },
    schedule: {
      zones: [],
      timetable: [],
      referenceEtM: Array.from({ length: 12 }, () => 0.1),
      climate: { kind: 'assumed', place: '', source: { text: 'invented', standing: 'ours' } },
      problems: [],
      traces: [],
    },
    waterBudget: {
      regionKey: '',
      regionName: '',
      regionSource: { text: 'invented', standing: 'ours' },
      limitEtafRatio: 0.55,
      landscapeAreaM2: 0,
      specialAreaM2: 0,
      averageEtafRatio: 0,
      sitewideEtafRatio: 0,
      averageHolds: true,
      allowanceHolds: true,
      regularUseM3: 0,
      specialUseM3: 0,
      sprayEfficiencyRatio: 0.75,
      annualEtM: 0,
      allowanceM3: 0,
      estimatedUseM3: 0,
      hydrozones: [],
      savingAgainstSprayM3: 0,
      problems: [],
      traces: [],
    },
    takeoff: { lines: [], cuts: [], rolls: [], labour: [], labourHours: 0, cost: null, problems: [] },
    findings: [],
    traces: [],
    foresight: null,
    quality: 'finished',
  };
}

/** The fixture with one bed whose far edge is a curve, so that its rows end on stations; counted again. */
export function curvedDesign(): Design {
  const design = fixtureDesign();
  const beds = design.beds.map((bed) => {
    if (bed.mark !== 'B') return bed;
    const ring = bed.layout.outline[0]!.outer;
    const [a, b] = [ring[1]!, ring[2]!];
    const arc = Array.from({ length: 14 }, (_, i) => {
      const t = (i + 1) / 15;
      return { x: a.x + 0.6 * Math.sin(Math.PI * t), y: a.y + (b.y - a.y) * t };
    });
    const outer = [ring[0]!, a, ...arc, b, ring[3]!];
    return { ...bed, layout: { ...bed.layout, outline: [{ outer, holes: [] }] } };
  });
  const counted = beds.map((bed) => ({
    id: bed.id,
    name: bed.name,
    dripline: bed.choice.dripline,
    layout: bed.layout,
    soil: bed.choice.soil,
  }));
  const takeoff = takeOff({
    plan: design.plan,
    catalog: design.catalog,
    beds: counted,
    supply: design.supply,
  });
  return { ...design, beds, takeoff };
}
