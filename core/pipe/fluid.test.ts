import { describe, expect, test } from 'vitest'
import { airAt, fluidOf } from './fluid.ts'

// ISO 2533 / US Standard Atmosphere 1976 (E6), geopotential altitudes.
test.each([
  [288.15, 101325, 1.225],
  [284.9, 95461, 1.16727],
  [281.65, 89874.6, 1.11164],
  [278.4, 84556, 1.05807],
  [275.15, 79495, 1.00649],
  [268.65, 70108.5, 0.90912],
])('air at %d K and %d Pa: %d kg/m³', (temperature, pressure, density) => {
  expect(airAt(temperature, pressure).density / density).toBeCloseTo(1, 5)
})

test('at sea level: viscosity and speed of sound (E6)', () => {
  const air = airAt(288.15, 101325)
  expect(air.viscosity).toBeCloseTo(1.7894e-5, 9)
  expect(air.gas?.soundSpeed).toBeCloseTo(340.294, 2)
})

describe('Incropera table A.4, which is of 1 bar (E6)', () => {
  test.each([
    [250, 1.3947, 159.6],
    [300, 1.1614, 184.6],
    [350, 0.995, 208.2],
    [400, 0.8711, 230.1],
    [450, 0.774, 250.7],
    [500, 0.6964, 270.1],
  ])('%d K: %d kg/m³, %d e−7 Pa·s', (temperature, density, viscosity) => {
    const air = airAt(temperature, 1e5)
    expect(Math.abs(air.density / density - 1)).toBeLessThan(0.002)
    // Sutherland's formula and the table part by up to 1.2 %, at 500 K.
    expect(Math.abs(air.viscosity / (viscosity * 1e-7) - 1)).toBeLessThan(0.012)
  })
})

test.each([
  [273.15, 1.292],
  [293.15, 1.204],
  [298.15, 1.184],
  [323.15, 1.092],
  [373.15, 0.9458],
])('Çengel table A-15, 1 atm (E6): %d K, %d kg/m³', (temperature, density) => {
  expect(Math.abs(airAt(temperature, 101325).density / density - 1)).toBeLessThan(0.001)
})

test('a pipe takes the state of its side of the cooler', () => {
  const air = {
    fluid: 'air',
    massFlow: 0.1,
    toCooler: { temperature: 420, pressure: 2.4e5 },
    fromCooler: { temperature: 330, pressure: 2.3e5 },
  } as const
  expect(fluidOf(air, 'to-cooler')).toEqual(airAt(420, 2.4e5))
  expect(fluidOf(air, 'from-cooler')).toEqual(airAt(330, 2.3e5))
  const oil = {
    fluid: 'liquid',
    massFlow: 0.4,
    toCooler: { density: 820, viscosity: 0.01 },
    fromCooler: { density: 850, viscosity: 0.03 },
  } as const
  expect(fluidOf(oil, 'to-cooler')).toEqual({ density: 820, viscosity: 0.01 })
  expect(fluidOf(oil, 'from-cooler')).toEqual({ density: 850, viscosity: 0.03 })
})
