import type { Problem } from '../../units';
import type { DataLine, Sections } from './sections';
import { flowUnitSystem, isPressureUnit } from './units';

/** What the OPTIONS section sets, with EPANET's own defaults. */
export interface FileOptions {
  readonly flowUnit: string;
  readonly pressureUnit: string | null;
  readonly headloss: 'H-W' | 'D-W';
  readonly emitterExponent: number;
  readonly viscosity: number;
  readonly specificGravity: number;
  readonly demandMultiplier: number;
  readonly isPressureDriven: boolean;
  readonly minimumPressure: number;
  readonly requiredPressure: number;
  readonly pressureExponent: number;
}

type Mutable = { -readonly [Key in keyof FileOptions]: FileOptions[Key] };

/** Options that change how EPANET searches or reports and nothing of the answer. */
const WITHOUT_EFFECT = [
  'TRIALS',
  'ACCURACY',
  'HEADERROR',
  'FLOWCHANGE',
  'UNBALANCED',
  'DAMPLIMIT',
  'CHECKFREQ',
  'MAXCHECK',
  'TOLERANCE',
  'QUALITY',
  'DIFFUSIVITY',
  'MAP',
  'HYDRAULICS',
  'SEGMENTS',
  'PATTERN',
  'HTOL',
  'QTOL',
  'RQTOL',
  'VERIFY',
];

/** Reads the OPTIONS section. Options whose effect would be lost are problems of severity stop. */
export function readOptions(sections: Sections, problems: Problem[]): FileOptions {
  const options: Mutable = {
    flowUnit: 'GPM',
    pressureUnit: null,
    headloss: 'H-W',
    emitterExponent: 0.5,
    viscosity: 1,
    specificGravity: 1,
    demandMultiplier: 1,
    isPressureDriven: false,
    minimumPressure: 0,
    requiredPressure: 0.1,
    pressureExponent: 0.5,
  };
  for (const line of sections.get('OPTIONS') ?? []) readOption(line, options, problems);
  return options;
}

/** Figures an option may set, by the words that name it. */
const FIGURES: Readonly<Record<string, 'any' | 'positive'>> = {
  'EMITTER EXPONENT': 'positive',
  VISCOSITY: 'positive',
  'SPECIFIC GRAVITY': 'positive',
  'DEMAND MULTIPLIER': 'any',
  'MINIMUM PRESSURE': 'any',
  'REQUIRED PRESSURE': 'any',
  'PRESSURE EXPONENT': 'positive',
};

function readOption(line: DataLine, options: Mutable, problems: Problem[]) {
  const words = line.words.map((word) => word.toUpperCase());
  const refuse = (code: string) =>
    problems.push({ code, severity: 'stop', where: line.where, params: { text: line.words.join(' ') } });
  const [first, second] = words;
  const pair = `${first} ${second}`;
  const key = FIGURES[pair] !== undefined ? pair : FIGURES[first!] !== undefined ? first! : null;
  if (key !== null) {
    const value = Number(words[key === pair ? 2 : 1]);
    const isSound = Number.isFinite(value) && (FIGURES[key] === 'any' ? value >= 0 : value > 0);
    if (isSound) setFigure(options, key, value);
    else refuse('exchange.inp-bad-number');
  } else if (first === 'UNITS') {
    if (second !== undefined && flowUnitSystem(second) !== null) options.flowUnit = second;
    else refuse('exchange.inp-bad-unit');
  } else if (first !== undefined && words.length === 1 && flowUnitSystem(first) !== null) {
    options.flowUnit = first;
  } else if (first === 'PRESSURE') {
    if (second !== undefined && isPressureUnit(second)) options.pressureUnit = second;
    else refuse('exchange.inp-bad-unit');
  } else if (first === 'HEADLOSS') {
    if (second === 'H-W' || second === 'D-W') options.headloss = second;
    else refuse('exchange.inp-refuses-option');
  } else if (pair === 'DEMAND MODEL') {
    if (words[2] === 'DDA' || words[2] === 'PDA') options.isPressureDriven = words[2] === 'PDA';
    else refuse('exchange.inp-refuses-option');
  } else if (pair === 'EMITTER BACKFLOW') {
    if (words[2] !== 'YES' && words[2] !== 'NO') refuse('exchange.inp-refuses-option');
  } else if (first === undefined || !WITHOUT_EFFECT.includes(first)) refuse('exchange.inp-refuses-option');
}

function setFigure(options: Mutable, key: string, value: number) {
  if (key === 'EMITTER EXPONENT') options.emitterExponent = value;
  else if (key === 'VISCOSITY') options.viscosity = value;
  else if (key === 'SPECIFIC GRAVITY') options.specificGravity = value;
  else if (key === 'DEMAND MULTIPLIER') options.demandMultiplier = value;
  else if (key === 'MINIMUM PRESSURE') options.minimumPressure = value;
  else if (key === 'REQUIRED PRESSURE') options.requiredPressure = value;
  else if (key === 'PRESSURE EXPONENT') options.pressureExponent = value;
}
