import type { Conditions } from '../bay/workshopSchema.ts'

type Flow = NonNullable<Conditions['flow']>

/** What flows through a pipe, as the losses need it. */
export interface Fluid {
  /** kg/m³ */
  readonly density: number
  /** Dynamic, Pa·s */
  readonly viscosity: number
  /** Speed of sound, m/s, and absolute pressure, Pa: of gases only. */
  readonly gas?: { readonly soundSpeed: number; readonly pressure: number }
}

/** J/(kg·K), of dry air. ISO 2533:1975. */
export const gasConstantOfAir = 287.05287
/** cp/cv of air at the temperatures of charge pipes; 1.40 at 300 K, 1.395 at 450 K. */
const heatRatio = 1.4

/**
 * Dry air as an ideal gas.
 * @param temperature K, above 0
 * @param pressure    absolute, Pa, above 0
 * @returns density p/(R·T), within 0.5 % of real air up to 1 MPa at 250 … 500 K (from memory); viscosity by Sutherland's
 *   formula, 1.458e−6 T^1.5/(T + 110.4), meant for about 100 … 1900 K
 * Source: ISO 2533:1975 and US Standard Atmosphere 1976.
 */
export function airAt(temperature: number, pressure: number): Fluid {
  return {
    density: pressure / (gasConstantOfAir * temperature),
    viscosity: (1.458e-6 * temperature ** 1.5) / (temperature + 110.4),
    gas: { soundSpeed: Math.sqrt(heatRatio * gasConstantOfAir * temperature), pressure },
  }
}

/** What flows to the cooler, or from it, by the bay's conditions. */
export function fluidOf(flow: Flow, which: 'to-cooler' | 'from-cooler'): Fluid {
  const to = which === 'to-cooler'
  if (flow.fluid === 'liquid') return to ? flow.toCooler : flow.fromCooler
  const { temperature, pressure } = to ? flow.toCooler : flow.fromCooler
  return airAt(temperature, pressure)
}
