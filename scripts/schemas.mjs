/** Writes the JSON schemas of all formats to docs/schemas, from the built program: `npm run build` first. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { format, resolveConfig } from 'prettier';
import { jsonSchemas } from '../dist/desk/index.js';

const folder = new URL('../docs/schemas/', import.meta.url);
const options = await resolveConfig(new URL('schemas.json', folder));
mkdirSync(folder, { recursive: true });
for (const [name, schema] of Object.entries(jsonSchemas())) {
  const text = await format(JSON.stringify(schema), { ...options, parser: 'json' });
  writeFileSync(new URL(name, folder), text);
}
