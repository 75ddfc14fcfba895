import type { Bay } from '../../../core/bay/schema.ts'
import type { Conditions } from '../../../core/bay/workshopSchema.ts'
import { withFields } from './removal.ts'

export type Flow = NonNullable<Conditions['flow']>

/** To begin with. Charge air of a 2-litre engine, and an oil cooler's oil: common practice, no source. SI units. */
const firstFlow: { readonly [F in Flow['fluid']]: Extract<Flow, { fluid: F }> } = {
  air: {
    fluid: 'air',
    massFlow: 0.15,
    toCooler: { temperature: 423.15, pressure: 220_000 },
    fromCooler: { temperature: 323.15, pressure: 213_000 },
  },
  liquid: {
    fluid: 'liquid',
    massFlow: 0.3,
    toCooler: { density: 820, viscosity: 0.01 },
    fromCooler: { density: 840, viscosity: 0.018 },
  },
}

/** What flows through the pipes; `none` takes it out. What pipes carry stays said. */
export function setFluid(bay: Bay, fluid: Flow['fluid'] | 'none'): Bay {
  if (fluid === 'none') return withFields(bay, { conditions: undefined })
  if (bay.conditions?.flow?.fluid === fluid) return bay
  return { ...bay, conditions: { ...bay.conditions, flow: firstFlow[fluid] } }
}
