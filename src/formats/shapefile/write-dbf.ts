import { type LayerField, type PolygonLayer, refuseExport } from '../polygon-layer.ts';

/** The .dbf of a layer (dBASE III): C and N columns only, the date of the job, text in UTF-8. */
export function dbfBytes(layer: PolygonLayer): Uint8Array {
  const { fields, features, date } = layer;
  checkFields(layer);
  const start = 32 + 32 * fields.length + 1;
  const rowLength = fields.reduce((sum, field) => sum + field.width, 1);
  const bytes = new Uint8Array(start + rowLength * features.length + 1);
  const view = new DataView(bytes.buffer);
  bytes.set([3, date.year - 1900, date.month, date.day]);
  view.setUint32(4, features.length, true);
  view.setUint16(8, start, true);
  view.setUint16(10, rowLength, true);
  const ascii = new TextEncoder();
  fields.forEach(({ name, kind, width, decimals }, index) => {
    const at = 32 + 32 * index;
    bytes.set(ascii.encode(name), at);
    bytes[at + 11] = kind === 'text' ? 67 : 78;
    bytes[at + 16] = width;
    bytes[at + 17] = kind === 'text' ? 0 : decimals;
  });
  bytes[start - 1] = 0x0d;
  bytes.fill(0x20, start, bytes.length - 1);
  bytes[bytes.length - 1] = 0x1a;
  features.forEach(({ values }, row) => {
    let at = start + row * rowLength + 1;
    fields.forEach((field, column) => {
      const where = `${layer.name} › record ${row + 1} › ${field.name}`;
      const cell = ascii.encode(cellText(values[column], field, where));
      if (cell.length > field.width) refuseExport(where, `${cell.length} bytes`, `at most ${field.width}`);
      bytes.set(cell, field.kind === 'text' ? at : at + field.width - cell.length);
      at += field.width;
    });
  });
  return bytes;
}

function cellText(value: number | string, field: LayerField, where: string): string {
  if (typeof value === 'string') {
    const odd = [...value].some((letter) => letter < ' ' || letter === '\u007f');
    if (odd || value !== value.trimEnd()) {
      refuseExport(where, JSON.stringify(value), 'text without control characters or blanks at its end');
    }
    return value;
  }
  const text = value.toFixed(field.decimals);
  if (text.includes('e')) refuseExport(where, text, 'a number without an exponent');
  return Number(text) === 0 ? text.replace('-', '') : text;
}

/** Limits that every reader keeps: 255 columns, names of ten characters, text of 254, numbers of 18. */
function checkFields({ name: layer, fields, date }: PolygonLayer): void {
  const { year, month, day } = date;
  const real =
    [year, month, day].every(Number.isInteger) && month >= 1 && month <= 12 && day >= 1 && day <= 31;
  if (!real || year < 1900 || year > 2155)
    refuseExport(layer, `${year}-${month}-${day}`, 'a date from 1900 to 2155');
  if (fields.length === 0 || fields.length > 255) refuseExport(layer, `${fields.length} fields`, '1 to 255');
  const taken = new Set<string>();
  for (const { name, kind, width, decimals } of fields) {
    const where = `${layer} › field '${name}'`;
    if (!/^[A-Za-z][A-Za-z0-9_]{0,9}$/.test(name)) {
      refuseExport(where, `${name.length} characters`, 'a letter, then letters, digits and _, ten at most');
    }
    if (taken.has(name.toUpperCase()))
      refuseExport(where, 'a second field of this name', 'names of their own');
    taken.add(name.toUpperCase());
    const widest = kind === 'text' ? 254 : 18;
    if (!Number.isInteger(width) || width < 1 || width > widest) {
      refuseExport(where, `width ${width}`, `1 to ${widest}`);
    }
    if (
      kind === 'number' &&
      (!Number.isInteger(decimals) || decimals < 0 || (decimals > 0 && decimals > width - 2))
    ) {
      refuseExport(where, `${decimals} decimals`, `0 to ${Math.max(0, width - 2)}`);
    }
  }
}
