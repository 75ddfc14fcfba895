#!/usr/bin/env node
// Writes assets/bay.schema.json from core/bay/schema.ts.
import { writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { runnerImport } from 'vite'

const source = fileURLToPath(new URL('../core/bay/jsonSchema.ts', import.meta.url))
const target = fileURLToPath(new URL('../assets/bay.schema.json', import.meta.url))
const { module } = await runnerImport(source, { configFile: false, logLevel: 'error' })
writeFileSync(target, module.bayJsonSchemaText())
