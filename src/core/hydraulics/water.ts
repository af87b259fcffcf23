/** Kinematic viscosity of water at atmospheric pressure, [kelvin, 1e-6 m2/s]. Source: handbook values (CRC), from memory. */
const VISCOSITY: readonly (readonly [number, number])[] = [
  [273.15, 1.787],
  [278.15, 1.519],
  [283.15, 1.307],
  [288.15, 1.139],
  [293.15, 1.004],
  [298.15, 0.893],
  [303.15, 0.801],
  [308.15, 0.724],
  [313.15, 0.658],
  [323.15, 0.553],
];

/**
 * Kinematic viscosity of clean water, m2/s, interpolated on its logarithm; 1.004e-6 at 20 C.
 * Range: 0 to 50 C; held at the ends outside. Fails: throws where the temperature is not finite.
 */
export function waterViscosityM2s(temperatureK: number): number {
  if (!Number.isFinite(temperatureK)) throw new Error('waterViscosityM2s needs a finite temperature');
  const upper = VISCOSITY.findIndex(([kelvin]) => kelvin >= temperatureK);
  if (upper === 0) return VISCOSITY[0]![1] * 1e-6;
  if (upper < 0) return VISCOSITY[VISCOSITY.length - 1]![1] * 1e-6;
  const [coolK, coolNu] = VISCOSITY[upper - 1]!;
  const [warmK, warmNu] = VISCOSITY[upper]!;
  const share = (temperatureK - coolK) / (warmK - coolK);
  return coolNu * (warmNu / coolNu) ** share * 1e-6;
}
