/** Networks laid out anew instead of being stored: ladder grids of dripline, as EPANET input text. US units: ft, in, gpm, psi. */
export interface GridSpec {
  readonly laterals: number;
  readonly emittersPerLateral: number;
  readonly hasFlushHeader: boolean;
  readonly exponent: number;
  /** gpm at 1 psi. */
  readonly coefficient: number;
  readonly headloss: 'H-W' | 'D-W';
  readonly reservoirHeadFt: number;
  readonly supplyLengthFt: number;
  readonly headerBoreIn: number;
  readonly flushHeaderBoreIn: number;
  readonly rowFt: number;
  readonly headerSlopeRatio: number;
  /** Full demand from 10 psi on, as a pressure-driven demand in place of emitters; absent: emitters. */
  readonly drivenDemandGpm?: number;
}

/** 0.6 gph at 14.5 psi. */
const coefficientFor = (exponent: number): number => Number((0.6 / 60 / 14.5 ** exponent).toPrecision(9));

/** The three grids of 5,000 emitters whose answers are kept: flush header, branched, and nearly compensating. */
export function grid5000(id: 'P11' | 'P12' | 'P13', headloss: 'H-W' | 'D-W'): GridSpec {
  const exponent = id === 'P13' ? 0.05 : 0.5;
  return {
    laterals: 25,
    emittersPerLateral: 200,
    hasFlushHeader: id !== 'P12',
    exponent,
    coefficient: coefficientFor(exponent),
    headloss,
    reservoirHeadFt: Number((35 / 0.4333).toPrecision(9)),
    supplyLengthFt: 40,
    headerBoreIn: 2.149,
    flushHeaderBoreIn: 1.049,
    rowFt: 1.5,
    headerSlopeRatio: 0.01,
  };
}

/** A grid like P11 of another size, header bore grown with its flow so that pressures stay alike. */
export function gridOf(laterals: number, emittersPerLateral: number, headloss: 'H-W' | 'D-W'): GridSpec {
  const bore = 2.149 * ((laterals * emittersPerLateral) / 5000) ** 0.4;
  return {
    ...grid5000('P11', headloss),
    laterals,
    emittersPerLateral,
    headerBoreIn: Number(bore.toFixed(3)),
  };
}

/** The grid as the text of an EPANET input file. */
export function gridInp(spec: GridSpec): string {
  const { laterals, emittersPerLateral, headloss } = spec;
  const plastic = headloss === 'H-W' ? 150 : 0.005;
  const tubing = headloss === 'H-W' ? 140 : 0.005;
  const junctions: string[] = [];
  const pipes: string[] = [];
  const emitters: string[] = [];
  const pipe = (id: string, a: string, b: string, lengthFt: number, boreIn: number, roughness: number) =>
    pipes.push(`${id} ${a} ${b} ${lengthFt} ${boreIn} ${roughness} 0 Open`);
  const elevation = (j: number) => Number((spec.headerSlopeRatio * (j - 1) * spec.rowFt).toFixed(6));
  for (let j = 1; j <= laterals; j++) {
    junctions.push(`H${j} ${elevation(j)} 0`);
    const from = j === 1 ? 'R' : `H${j - 1}`;
    pipe(`HP${j}`, from, `H${j}`, j === 1 ? spec.supplyLengthFt : spec.rowFt, spec.headerBoreIn, plastic);
  }
  for (let j = 1; j <= laterals; j++) {
    let before = `H${j}`;
    for (let i = 1; i <= emittersPerLateral; i++) {
      const id = `E${j}_${i}`;
      junctions.push(`${id} ${elevation(j)} ${spec.drivenDemandGpm ?? 0}`);
      if (spec.drivenDemandGpm === undefined) emitters.push(`${id} ${spec.coefficient}`);
      pipe(`L${j}_${i}`, before, id, i === 1 ? 0.5 : 1, 0.57, tubing);
      before = id;
    }
    if (!spec.hasFlushHeader) continue;
    junctions.push(`F${j} ${elevation(j)} 0`);
    pipe(`L${j}_${emittersPerLateral + 1}`, before, `F${j}`, 0.5, 0.57, tubing);
    if (j > 1) pipe(`FP${j}`, `F${j - 1}`, `F${j}`, spec.rowFt, spec.flushHeaderBoreIn, plastic);
  }
  const driven = ['Demand Model PDA', 'Minimum Pressure 0', 'Required Pressure 10', 'Pressure Exponent 0.5'];
  return [
    '[JUNCTIONS]',
    ...junctions,
    '[RESERVOIRS]',
    `R ${spec.reservoirHeadFt}`,
    '[PIPES]',
    ...pipes,
    '[EMITTERS]',
    ...emitters,
    '[OPTIONS]',
    'Units GPM',
    `Headloss ${headloss}`,
    `Emitter Exponent ${spec.exponent}`,
    'Trials 5000',
    'Accuracy 1e-8',
    ...(spec.drivenDemandGpm === undefined ? [] : driven),
    '[TIMES]',
    'Duration 0',
    '[REPORT]',
    'Status No',
    'Summary No',
    '[END]',
    '',
  ].join('\n');
}
