import { source as axe } from 'axe-core'
import type { Page } from 'playwright-core'
import { expect } from 'vitest'

/** Rules of WCAG 2.0 to 2.2, levels A and AA, as axe-core 4 checks them. Source: axe-core, Mozilla Public Licence 2.0. */
const levels = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']

interface Found {
  readonly id: string
  readonly help: string
  readonly nodes: readonly { readonly html: string; readonly failureSummary: string }[]
}

/** What axe finds wrong on the page as it is, one line a place. @param within only in what this selector names */
export async function wrongOn(page: Page, within = 'body'): Promise<string[]> {
  await page.evaluate(axe)
  const found = await page.evaluate(
    ([tags, scope]) =>
      (
        window as unknown as {
          axe: { run(scope: string, options: unknown): Promise<{ violations: Found[]; passes: unknown[] }> }
        }
      ).axe.run(scope, { runOnly: { type: 'tag', values: tags } }),
    [levels, within] as const,
  )
  // An axe that looked at nothing would find nothing.
  expect(found.passes.length).toBeGreaterThan(within === 'body' ? 15 : 5)
  return found.violations.flatMap(({ id, help, nodes }) =>
    nodes.map(
      ({ html, failureSummary }) => `${id}: ${help} · ${html.slice(0, 160)} · ${failureSummary.replace(/\s+/g, ' ')}`,
    ),
  )
}
