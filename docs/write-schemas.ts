import { writeFileSync } from 'node:fs';
import { jsonSchemas } from './json-schemas.ts';

for (const [name, text] of jsonSchemas()) writeFileSync(new URL(name, import.meta.url), text);
