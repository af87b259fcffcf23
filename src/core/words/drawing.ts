import type { Printer } from '../units';

/** Every word the install sheet and the calculations print that is not a finding's own sentence. */
export const drawingWords = {
  toFillIn: 'to fill in',
  noChanges: 'none',
  continued: (title: string) => `${title}, continued`,
  sheetOf: (label: string, count: number) => `${label} of ${count}`,
  notForConstruction: 'NOT FOR CONSTRUCTION',
  notForConstructionWhy: 'a stop finding stands: see the findings on this set',
  missingLetters: 'Letters this face lacks are printed as ?.',
  title: {
    project: 'Project',
    place: 'Place',
    sheet: 'Sheet',
    designer: 'Prepared by',
    date: 'Date',
    changes: 'Last change',
    scale: 'Scale',
    units: 'Units',
    paper: 'Paper',
    number: 'Sheet',
  },
  units: { us: 'ft, gpm, psi', metric: 'm, L/min, kPa' },
  noScale: 'not to scale',
  pages: {
    plan: 'Drip install plan',
    planPart: (part: string) => `Drip install plan, part ${part}`,
    key: 'Key to the plan sheets',
    tables: 'Tables and notes',
    details: 'Details',
    commissioning: 'Commissioning',
    owner: "Owner's card",
    calculations: 'Calculations',
    budget: 'Water budget',
  },
  layers: {
    frame: 'Frame and title',
    underlay: 'Underlay',
    ground: 'Ground',
    utilities: 'Buried utilities',
    beds: 'Beds',
    tubing: 'Tubing',
    emitters: 'Emitters',
    pipes: 'Headers, main and sleeves',
    wires: 'Wire',
    devices: 'Devices',
    dimensions: 'Dimensions',
    notes: 'Run marks and notes',
    tables: 'Tables',
    details: 'Details',
    findings: 'Findings',
  },
  scaleBar: (scale: string, paper: string) =>
    `Scale ${scale}. If this bar is not ${paper} long, do not scale from this sheet.`,
  matchLine: (sheet: string) => `Match line: goes on on sheet ${sheet}`,
  keyMap: 'Where this sheet lies',
} as const;

/** What a scale of the sheet is called beside its ratio. */
export type DrawingWords = typeof drawingWords;

/** A bed's heading on the plan. */
export const bedHeading = (name: string, areaM2: number, print: Printer): string =>
  `${name}, ${print.area(areaM2)}`;
