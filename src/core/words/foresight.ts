/** What a crew is told beforehand: pressures found, how a build may come out, what a fault shows on a gauge. */
export const foresightText = {
  tables: {
    found: 'You measured the pressure: what now',
    tolerance: 'Built as crews build',
    faults: (zone: number) => `Zone ${zone}: what a wrong reading means`,
  },
  heads: {
    asDrawn: 'build as drawn',
    expect: 'build, but expect',
    stop: 'stop and call',
    good: 'good builds',
    uniformity: 'even, as built',
    spare: 'to spare',
    matters: 'what matters most',
    fault: 'if this is wrong',
  },
  foundNote: (fallText: string | null) =>
    `Static pressure at the connection, nothing running.${
      fallText === null ? '' : ` The mains may fall ${fallText} below a reading of the day: that is counted.`
    }`,
  from: (pressure: string) => `${pressure} or more`,
  between: (low: string, high: string) => `${low} to ${high}`,
  outside: (low: string, high: string) => `under ${low}, over ${high}`,
  never: 'call first',
  none: 'nothing',
  limits: {
    'supply.found-emitters-short': 'the far emitters run short',
    'supply.found-uneven': 'less even water',
    'supply.found-regulator-open': 'regulator wide open',
    'supply.found-short-when-loaded': 'short when the filter loads',
    'supply.found-flush-slow': 'a slow flush',
  },
  toleranceNote: (trials: number) =>
    `Each zone built at least ${trials} times on paper with rows a little long or short, mains a little high or low, the filter anywhere between clean and loaded, and emitters as made. A good build is as even as wanted and short nowhere.`,
  outOfTen: (ratio: number) => `${Math.round(ratio * 100)} of 100`,
  errors: {
    'supply.error-row-length': 'rows laid longer than drawn',
    'supply.error-filter-loaded': 'a filter left to load up',
    'supply.error-supply-low': 'mains lower than measured',
    'supply.error-emitter-variation': 'emitters as made',
  },
  takes: (error: string, share: string) => `${error}: can take ${share} of what is to spare`,
  breaks: (error: string) => `${error}: can break the zone alone`,
  points: {
    connection: 'at the connection',
    'regulator-inlet': 'into the regulator',
    'regulator-outlet': 'after the regulator',
    'stub-up': (bed: string) => `at the stub-up, ${bed}`,
    flush: (run: string) => `at the flush valve, ${run}`,
  },
  asDrawn: 'nothing wrong',
  another: 'another pressure',
  faults: {
    'supply.fault-valve-closed': 'valve shut',
    'supply.fault-filter-loaded': 'filter loaded',
    'supply.fault-wrong-regulator': (setting: string) => `regulator set to ${setting}`,
    'supply.fault-cut-run': (run: string, along: string) =>
      along === '' ? `${run} cut through` : `${run} cut, ${along} along`,
    'supply.fault-kink': (run: string) => `${run} kinked at a turn`,
    'supply.fault-flush-open': (run: string) => `flush valve of ${run} open`,
    'supply.fault-join-missing': (run: string) => `${run} not joined at one end`,
    'supply.fault-mains-low': 'mains a fifth low',
  },
  range: (low: string, high: string) => (low === high ? low : `${low} to ${high}`),
  unseen: (list: string) => `These two gauges do not show: ${list}. Walk the rows for them.`,
} as const;
