import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { jsonSchemas } from '../docs/json-schemas.ts';

const root = join(import.meta.dirname, '..');
const pages = ['README.md', 'DEVELOPERS.md', ...pagesUnder('docs'), 'sample-fields/README.md'];

describe('the documents', () => {
  it.each([...jsonSchemas()])(
    '%s is what the schema in the code says (npm run docs writes it)',
    (name, text) => {
      expect(readFileSync(join(root, 'docs', name), 'utf8')).toBe(text);
    },
  );

  it.each(pages)('%s points only at files there are', (page) => {
    const text = readFileSync(join(root, page), 'utf8');
    const links = [...text.matchAll(/\]\(([^)#\s]+)(?:#[^)]*)?\)/g)]
      .map((match) => match[1])
      .filter((link) => !/^[a-z]+:/.test(link));
    const paths = [...text.matchAll(/`((?:src|tests|docs|sample-fields|public)\/[^`\s*<…]*)`/g)].map(
      (match) => match[1],
    );
    const missing = [
      ...links.filter((link) => !existsSync(join(root, dirname(page), link))),
      ...paths.filter((path) => !existsSync(join(root, path))),
    ];
    expect(missing).toEqual([]);
  });
});

function pagesUnder(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.md'))
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`);
}
