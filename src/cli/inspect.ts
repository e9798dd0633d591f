import { type Issue, issueText } from '../engine/issue.ts';
import { readFiles } from '../formats/registry.ts';
import { isOwnDocument } from '../jobs/sort-files.ts';
import { figure } from '../run/figures.ts';
import { loadAll } from './disk.ts';
import { type LayerReport, layerReport, oddPoints, plain } from './layer-report.ts';
import { readingInThread } from './reading-worker.ts';
import { DONE, hasError, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';

/** `eachacre inspect FILE…`: what is in files and folders. Plans and lineups are documents of our own and are passed over among others. */
export async function inspect(
  paths: readonly string[],
  options: { json?: boolean; crop: string },
): Promise<number> {
  const files = loadAll(paths, (path) => path);
  const data = files.filter((file) => files.length === 1 || !isOwnDocument(file));
  const read = await readFiles(data, {}, readingInThread());
  const issues: Issue[] = [...read.issues];
  const layers = read.sources.map((source) => layerReport(source, options.crop));
  const found = read.sources.map((source) => [...source.issues, ...oddPoints(source, options.crop)]);
  if (options.json) {
    tellJson({ layers, issues: [...issues, ...found.flat()] });
  } else {
    for (const [k, layer] of layers.entries()) tell(layerText(layer, found[k]));
    tellIssues(issues);
  }
  return hasError([...issues, ...found.flat()]) ? WRONG_INPUT : DONE;
}

function layerText(layer: LayerReport, issues: readonly Issue[]): string {
  const lines = [
    `${layer.file}: ${layer.raster ? `${layer.raster.width} by ${layer.raster.height} pixels` : figure.count(layer.records.read, layer.shape === 'table' ? 'row' : layer.shape.slice(0, -1))} (${layer.format})`,
    `  taken for ${layer.kind} (${layer.because})`,
  ];
  const aside = Object.entries(layer.records.setAside).map(([reason, n]) => `${n} ${reason}`);
  if (layer.records.repaired || aside.length)
    lines.push(
      `  used ${layer.records.used}, repaired ${layer.records.repaired}, set aside ${aside.join(', ') || 'none'}`,
    );
  if (layer.shape !== 'table')
    lines.push(`  coordinate system: ${layer.crs ? `${layer.crs.name} (${layer.crs.code})` : 'not stated'}`);
  if (layer.extent) {
    const { west, south, east, north, unit } = layer.extent;
    const digits = unit === 'degrees' ? 6 : 2;
    lines.push(
      `  extent (${unit}): ${west.toFixed(digits)} ${south.toFixed(digits)} to ${east.toFixed(digits)} ${north.toFixed(digits)}`,
    );
  }
  if (layer.yield)
    lines.push(`  yield: ${layer.yield.because}${layer.yield.year ? `, ${layer.yield.year}` : ''}`);
  for (const { role, column, unit, confidence } of layer.readings) {
    const sure = confidence >= 1 ? 'sure' : `${figure.whole(100 * confidence)} % sure`;
    lines.push(`  ${role}: ${column}${unit ? ` in ${unit}` : ''} (${sure})`);
  }
  for (const { about, options } of layer.questions) {
    lines.push(
      `  asked: ${about}: ${options.map(({ value, because }) => `${value} (${because})`).join(' or ')}`,
    );
  }
  for (const column of layer.columns) {
    const about =
      column.kind === 'text'
        ? `text, ${column.distinct} distinct: ${column.examples.join(' | ')}`
        : column.min === undefined || column.mean === undefined || column.max === undefined
          ? 'no numbers'
          : `${plain(column.min)} to ${plain(column.max)}, mean ${plain(column.mean)}${column.unit ? ` ${column.unit}` : ''}`;
    lines.push(`    ${column.name.padEnd(18)} ${about}`);
  }
  for (const issue of issues) lines.push(`  ${issue.severity}: ${issueText(issue)} [${issue.code}]`);
  return lines.join('\n');
}
