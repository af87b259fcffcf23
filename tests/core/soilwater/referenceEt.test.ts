import { describe, expect, it } from 'vitest';
import { emptyPlan } from '../../../src/core/plan';
import {
  airPressureKPa,
  CLIMATE_TABLES,
  clearSkyRadiation,
  climateTableFor,
  computeReferenceEt,
  daylightHours,
  extraterrestrialRadiationMJm2,
  hargreavesMmDay,
  meanSaturationKPa,
  monthlySoilHeat,
  netLongwave,
  netShortwave,
  penmanMonteith,
  psychrometricKPaC,
  radiationFromSunshine,
  radiationFromTemperature,
  referenceEtFor,
  saturationKPa,
  saturationSlopeKPaC,
  sunsetHourAngleRad,
  vapourPressureKPa,
  type Weather,
  windAtTwoMetres,
} from '../../../src/core/soilwater';

const degrees = (value: number): number => (value * Math.PI) / 180;

// All worked examples: FAO-56 (Allen, Pereira, Raes, Smith 1998), tolerance the last printed digit unless said.
describe('FAO-56 worked examples, air and sun', () => {
  it('Example 2: air at 1800 m has 81.8 kPa and a psychrometric constant of 0.054 (printed values, from memory)', () => {
    expect(airPressureKPa(1800)).toBeCloseTo(81.8, 1);
    expect(psychrometricKPaC(airPressureKPa(1800))).toBeCloseTo(0.054, 3);
  });

  it('Example 3: 24.5 and 15 C saturate at 3.075 and 1.705, mean 2.39 kPa (printed values, from memory)', () => {
    expect(saturationKPa(24.5)).toBeCloseTo(3.075, 3);
    expect(saturationKPa(15)).toBeCloseTo(1.705, 3);
    expect(meanSaturationKPa(24.5, 15)).toBeCloseTo(2.39, 2);
  });

  it('Example 5: 82 % at 18 C and 54 % at 25 C hold 1.70 kPa (printed value, from memory)', () => {
    const held = vapourPressureKPa({ kind: 'relative-range', maxRatio: 0.82, minRatio: 0.54 }, 25, 18);
    expect(held).toBeCloseTo(1.7, 2);
  });

  it('Example 8: at 20 S on 3 September the sun above the air gives 32.2 MJ, sunset angle 1.527', () => {
    expect(Math.abs(extraterrestrialRadiationMJm2(degrees(-20), 246) - 32.2)).toBeLessThan(0.05);
    expect(sunsetHourAngleRad(degrees(-20), 246)).toBeCloseTo(1.527, 3);
  });

  it('Example 9: that day is 11.7 hours long', () => {
    expect(Math.abs(daylightHours(degrees(-20), 246) - 11.7)).toBeLessThan(0.05);
  });

  it('Example 10: Rio de Janeiro in May, 220 hours of sun, gives 14.5 MJ a day', () => {
    const above = extraterrestrialRadiationMJm2(degrees(-22.9), 135);
    const hours = daylightHours(degrees(-22.9), 135);
    expect(above).toBeCloseTo(25.1, 1);
    expect(hours).toBeCloseTo(10.9, 1);
    expect(Math.abs(radiationFromSunshine(220 / 31, hours, above) - 14.5)).toBeLessThan(0.1);
  });

  it('Examples 11 and 12: Rio keeps 11.1, loses 3.5 and nets 7.6 MJ a day', () => {
    const lost = netLongwave(25.1, 19.1, 2.1, 14.5, 18.8);
    expect(Math.abs(lost - 3.5)).toBeLessThan(0.05);
    expect(Math.abs(netShortwave(14.5) - 11.1)).toBeLessThan(0.1);
    expect(Math.abs(netShortwave(14.5) - lost - 7.6)).toBeLessThan(0.15);
  });

  it('Example 13: Algiers in April, 14.1 C before and 18.8 C after, takes 0.33 MJ a day into the ground', () => {
    expect(Math.abs(monthlySoilHeat(14.1, 18.8) - 0.33)).toBeLessThan(0.005);
  });

  it('Example 14: 3.2 m/s at 10 m is 2.4 m/s at 2 m', () => {
    expect(Math.abs(windAtTwoMetres(3.2, 10) - 2.4)).toBeLessThan(0.02);
  });

  it('Example 15: Lyon in July from temperatures alone gives 22.3 MJ a day', () => {
    const above = extraterrestrialRadiationMJm2(degrees(45.7167), 196);
    const clear = clearSkyRadiation(200, above);
    expect(above).toBeCloseTo(40.55, 1);
    expect(Math.abs(radiationFromTemperature(26.6, 14.8, false, above, clear) - 22.3)).toBeLessThan(0.1);
  });
});

describe('FAO-56 worked examples, Penman-Monteith and Hargreaves', () => {
  it('Example 17: Bangkok in April needs 5.72 mm a day, with every printed step', () => {
    const weather: Weather = {
      maxC: 34.8,
      minC: 25.6,
      humidity: { kind: 'vapour-pressure', kPa: 2.85 },
      sunlight: { kind: 'sunshine-hours', hours: 8.5 },
      wind: { speedMs: 2, heightM: 2 },
    };
    const place = { latitudeRad: degrees(13.7333), elevationM: 2, dayOfYear: 105 };
    // Eq. 44, from the month before: 0.14 (30.2 - 29.2).
    const steps = penmanMonteith(weather, place, 0.14 * (30.2 - 29.2));
    expect(steps.slopeKPaC).toBeCloseTo(0.246, 3);
    expect(steps.psychrometricKPaC).toBeCloseTo(0.0674, 3);
    expect(steps.saturationKPa).toBeCloseTo(4.42, 2);
    expect(steps.aboveAirMJm2).toBeCloseTo(38.06, 2);
    expect(steps.groundMJm2).toBeCloseTo(22.65, 2);
    expect(steps.clearSkyMJm2).toBeCloseTo(28.54, 1);
    expect(steps.netShortMJm2).toBeCloseTo(17.44, 2);
    expect(steps.netLongMJm2).toBeCloseTo(3.11, 2);
    expect(steps.netMJm2).toBeCloseTo(14.33, 2);
    expect(steps.radiationTermMmDay).toBeCloseTo(3.97, 2);
    expect(steps.windTermMmDay).toBeCloseTo(1.75, 2);
    expect(Math.abs(steps.etMmDay - 5.72)).toBeLessThan(0.03);
  });

  it('Example 18: Uccle on 6 July needs 3.88 mm, with every printed step', () => {
    const weather: Weather = {
      maxC: 21.5,
      minC: 12.3,
      humidity: { kind: 'relative-range', maxRatio: 0.84, minRatio: 0.63 },
      sunlight: { kind: 'sunshine-hours', hours: 9.25 },
      wind: { speedMs: 10 / 3.6, heightM: 10 },
    };
    const steps = penmanMonteith(weather, { latitudeRad: degrees(50.8), elevationM: 100, dayOfYear: 187 });
    expect(steps.windMs).toBeCloseTo(2.078, 3);
    expect(steps.pressureKPa).toBeCloseTo(100.1, 1);
    expect(steps.saturationKPa).toBeCloseTo(1.997, 2);
    expect(steps.vapourPressureKPa).toBeCloseTo(1.409, 3);
    expect(steps.aboveAirMJm2).toBeCloseTo(41.09, 2);
    expect(steps.groundMJm2).toBeCloseTo(22.07, 2);
    expect(steps.netLongMJm2).toBeCloseTo(3.71, 2);
    expect(steps.netMJm2).toBeCloseTo(13.28, 2);
    expect(Math.abs(steps.etMmDay - 3.88)).toBeLessThan(0.02);
  });

  const lyon: Weather = {
    maxC: 26.6,
    minC: 14.8,
    humidity: { kind: 'missing', isArid: false },
    sunlight: { kind: 'missing', isCoastal: false },
    wind: null,
  };
  const july = { latitudeRad: degrees(45.7167), elevationM: 200, dayOfYear: 196 };

  it('Example 20: Lyon in July with temperatures alone needs 4.56 mm, 4.2 at 1 m/s and 4.8 at 3 m/s of wind', () => {
    expect(Math.abs(penmanMonteith(lyon, july).etMmDay - 4.56)).toBeLessThan(0.03);
    const at = (speedMs: number) => penmanMonteith({ ...lyon, wind: { speedMs, heightM: 2 } }, july).etMmDay;
    expect(at(1)).toBeCloseTo(4.2, 1);
    expect(at(3)).toBeCloseTo(4.8, 1);
  });

  it('Example 20: Hargreaves gives 5.0 mm for the same month', () => {
    const above = extraterrestrialRadiationMJm2(july.latitudeRad, july.dayOfYear);
    expect(Math.abs(hargreavesMmDay(26.6, 14.8, above) - 5)).toBeLessThan(0.05);
  });

  it('the slope of the saturation curve is the derivative of the curve', () => {
    // Computed by central difference: independent of the printed formula.
    const slope = (saturationKPa(20.001) - saturationKPa(19.999)) / 0.002;
    expect(saturationSlopeKPaC(20)).toBeCloseTo(slope, 4);
  });
});

describe('a year of weather', () => {
  // FAO-56 figure 18, Cabinda (Angola): min C, max C, mean humidity, wind km/day, sun hours, printed ET0 mm/day.
  const cabinda: readonly (readonly [number, number, number, number, number, number])[] = [
    [22.8, 29.6, 81, 78, 4.0, 3.4],
    [22.7, 30.3, 82, 69, 4.6, 3.7],
    [23.0, 30.6, 80, 78, 5.1, 3.8],
    [23.0, 30.2, 82, 69, 5.0, 3.5],
    [22.0, 28.6, 84, 69, 3.8, 2.9],
    [19.2, 26.5, 81, 69, 3.3, 2.6],
    [17.6, 25.1, 78, 78, 3.2, 2.6],
    [18.6, 25.3, 78, 78, 2.6, 2.6],
    [20.5, 26.5, 78, 104, 2.0, 2.8],
    [22.5, 28.0, 79, 130, 2.2, 3.1],
    [23.0, 28.7, 80, 104, 3.2, 3.3],
    [23.0, 29.1, 82, 95, 3.8, 3.4],
  ];
  const months = cabinda.map(
    ([minC, maxC, humidity, wind, hours]): Weather => ({
      minC,
      maxC,
      humidity: { kind: 'relative-mean', meanRatio: humidity / 100 },
      sunlight: { kind: 'sunshine-hours', hours },
      wind: { speedMs: (wind * 1000) / 86400, heightM: 2 },
    }),
  );
  const year = { latitudeRad: degrees(-5.33), elevationM: 20, months };
  const days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

  it('Cabinda comes within 0.2 mm a day of the printed year (its humidity handling is not printed)', () => {
    const computed = computeReferenceEt(year, 'penman-monteith');
    expect(computed.problems).toEqual([]);
    cabinda.forEach((row, index) => {
      const mmDay = ((computed.monthlyM[index] ?? 0) * 1000) / (days[index] ?? 1);
      expect(Math.abs(mmDay - row[5])).toBeLessThan(0.2);
    });
  });

  it('Hargreaves reads too high in that humid place, as FAO-56 says it does', () => {
    const penman = computeReferenceEt(year, 'penman-monteith').monthlyM.reduce((a, b) => a + b, 0);
    const hargreaves = computeReferenceEt(year, 'hargreaves').monthlyM.reduce((a, b) => a + b, 0);
    expect(hargreaves).toBeGreaterThan(penman);
  });

  it('weather that cannot be is listed month by month, and no month is guessed', () => {
    const wrong = months.map((month, index) => (index === 4 ? { ...month, minC: 40 } : month));
    const computed = computeReferenceEt({ ...year, months: wrong }, 'penman-monteith');
    expect(computed.problems.map((problem) => problem.code)).toEqual([
      'soilwater.weather-temperatures-swapped',
    ]);
    expect(computed.problems[0]?.params.month).toBe(5);
    expect(computed.monthlyM.every((month) => month === 0)).toBe(true);
  });

  it('a year without December says so', () => {
    const short = computeReferenceEt({ ...year, months: months.slice(0, 11) }, 'hargreaves');
    expect(short.problems.map((problem) => problem.code)).toEqual(['soilwater.weather-twelve-months']);
  });
});

describe('the reference ET of a plan', () => {
  const plan = emptyPlan('p');
  const at = (place: string) => ({
    ...plan,
    site: { ...plan.site, climate: { ...plan.site.climate, place } },
  });

  it('what is typed outranks the table of the place', () => {
    const typed = Array.from({ length: 12 }, () => 0.1);
    const fresno = at('Fresno');
    const site = { ...fresno.site, climate: { ...fresno.site.climate, referenceEtM: typed } };
    const et = referenceEtFor({ ...fresno, site });
    expect(et.kind).toBe('typed');
    expect(et.annualM).toBeCloseTo(1.2, 12);
  });

  it('Fresno is picked by name, 51.1 in a year (annual read in an ordinance example), and says its months are from memory', () => {
    const et = referenceEtFor(at('Fresno, California'));
    expect(et.kind).toBe('picked');
    expect(et.annualM / 0.0254).toBeCloseTo(51.1, 6);
    expect(et.problems.map((problem) => problem.code)).toContain('soilwater.climate-from-memory');
  });

  it('Vacaville is published, 52.3 in a year, and needs no such note', () => {
    const et = referenceEtFor(at('Vacaville'));
    expect(et.annualM / 0.0254).toBeCloseTo(52.3, 6);
    expect(et.problems).toEqual([]);
  });

  it('a place without a table is said, not guessed in silence', () => {
    const et = referenceEtFor(at('Atlantis'));
    expect(et.kind).toBe('assumed');
    expect(et.problems.map((problem) => problem.code)).toEqual(['soilwater.climate-assumed']);
  });

  it('every table has twelve months, the summer above the winter, and its annual within 0.2 in of the printed one', () => {
    // Annual totals as remembered with the rows; Vacaville and Lagoon Valley as printed.
    const annual: Readonly<Record<string, number>> = {
      fremont: 47,
      livermore: 47.2,
      oakland: 41.8,
      fresno: 51.1,
      bakersfield: 52.4,
      'los-angeles': 50.1,
      'long-beach': 39.7,
      sacramento: 51.9,
      'san-diego': 46.5,
      'san-francisco': 35.1,
      'san-jose': 45.3,
      'palm-desert': 71.6,
      'santa-barbara': 40.6,
      'santa-rosa': 42,
      'el-centro': 81.7,
      vacaville: 52.3,
      'lagoon-valley': 45.2,
    };
    expect(CLIMATE_TABLES.length).toBe(Object.keys(annual).length);
    for (const table of CLIMATE_TABLES) {
      expect(table.monthlyM.length).toBe(12);
      const inches = table.monthlyM.reduce((a, b) => a + b, 0) / 0.0254;
      expect(Math.abs(inches - (annual[table.key] ?? 0))).toBeLessThanOrEqual(0.2 + 1e-9);
      expect(table.monthlyM[6] ?? 0).toBeGreaterThan(table.monthlyM[0] ?? 1);
    }
    expect(climateTableFor('FRESNO')?.key).toBe('fresno');
  });
});
