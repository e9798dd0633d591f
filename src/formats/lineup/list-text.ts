/** One of several in a cell: `Name = value (inside, inside)`. */
export interface Item {
  readonly name: string;
  readonly value: string;
  readonly inside: readonly string[];
}

const MARKS = /[\\;=(),]/g;

/** Items in one cell, parted by semicolons; what would be taken for a mark has a backslash before it. */
export function listText(items: readonly Item[]): string {
  const safe = (text: string) => text.replace(MARKS, (mark) => `\\${mark}`);
  return items
    .map(
      ({ name, value, inside }) =>
        safe(name) +
        (value === '' ? '' : ` = ${safe(value)}`) +
        (inside.length === 0 ? '' : ` (${inside.map(safe).join(', ')})`),
    )
    .join('; ');
}

export function listOf(text: string): Item[] {
  const items: { name: string; value: string; inside: string[] }[] = [];
  let part: 'name' | 'value' | 'inside' | 'after' = 'name';
  let own = { name: '', value: '', inside: [] as string[] };
  const close = () => {
    const item = {
      name: own.name.trim(),
      value: own.value.trim(),
      inside: own.inside.map((one) => one.trim()),
    };
    if (item.name !== '') items.push({ ...item, inside: item.inside.filter((one) => one !== '') });
    own = { name: '', value: '', inside: [] };
    part = 'name';
  };
  for (let at = 0; at < text.length; at++) {
    const escaped = text[at] === '\\' && at + 1 < text.length;
    const letter = escaped ? text[++at] : text[at];
    if (!escaped && letter === ';' && part !== 'inside') close();
    else if (!escaped && letter === '=' && part === 'name') part = 'value';
    else if (!escaped && letter === '(' && part !== 'inside') {
      part = 'inside';
      own.inside.push('');
    } else if (!escaped && letter === ')' && part === 'inside') part = 'after';
    else if (!escaped && letter === ',' && part === 'inside') own.inside.push('');
    else if (part === 'inside') own.inside[own.inside.length - 1] += letter;
    else if (part !== 'after') own[part] += letter;
  }
  close();
  return items;
}
