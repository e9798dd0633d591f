import { type Issue, Refusal } from '../../engine/issue.ts';
import type { FileBytes } from '../file-bytes.ts';
import { newTally, note, tallyText } from '../tally.ts';
import { readXml, refuseXml, type XmlElement } from '../xml/read-xml.ts';
import { attribute } from '../xml/tree.ts';
import { isoIssue } from './iso-refusal.ts';
import { baseName, membersNamed } from './members.ts';

/** A task file with its external files put in their place. */
export interface TaskData {
  readonly name: string;
  /** Elements of one tag below the root, in their order. */
  all(tag: string): readonly XmlElement[];
  /** The element an id names; a name that leads nowhere is remembered. */
  find(id: string, from: string): XmlElement | null;
  /** The file called `base`, any case; null where there is none, and the Refusal of one that is there twice. */
  member(base: string): FileBytes | null;
  /** What was found odd so far, references that lead nowhere included. */
  issues(): Issue[];
}

export const ROOT = 'ISO11783_TaskData';
const ID = /^[A-Z]{3}-?\d{1,10}$/;

/** Reads the first of `files` and the external files it names. Throws a Refusal when the task file itself cannot be read. */
export function readTaskData(files: readonly FileBytes[]): TaskData {
  const [file] = files;
  const { name } = file;
  const { root, issues: odd } = readXml(file);
  if (root.name !== ROOT) refuseXml('iso-root', name, `a root element <${root.name}>`, `<${ROOT}>`);
  const issues: Issue[] = [...odd];
  const used = new Set([file]);
  const twice = newTally();
  const lost = new Set<string>();

  function member(base: string): FileBytes | null {
    const found = membersNamed(files, base);
    for (const own of found) used.add(own);
    if (found.length > 1) {
      refuseXml('iso-ambiguous', name, `${found.length} files called ${base}, whatever their case`, 'one');
    }
    if (found.length === 0) return null;
    if (baseName(found[0].name) !== base) issues.push(nameCase(found[0].name, base));
    return found[0];
  }

  member('TASKDATA.XML');
  const version = attribute(root, 'VersionMajor');
  if (!['3', '4'].includes(version)) issues.push(versionIssue(name, version));
  const children = root.children.flatMap((child) => (child.name === 'XFR' ? external(child) : [child]));

  /** Elements of an external file; what cannot be read of it is told and left out. */
  function external(reference: XmlElement): readonly XmlElement[] {
    const base = `${attribute(reference, 'A')}.XML`;
    try {
      const own = member(base);
      if (own) return readXml(own).root.children;
      const found = `external file ${base}, which is not there`;
      issues.push(
        isoIssue(
          'iso-external-missing',
          'warning',
          name,
          found,
          'the file beside it',
          'What it holds is missing',
          'Hand over the whole folder or a zip of it',
        ),
      );
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      issues.push(error.issue);
    }
    return [];
  }

  const byId = new Map<string, XmlElement>();
  for (const child of children) {
    const id = attribute(child, 'A');
    if (!ID.test(id) || !id.startsWith(child.name)) continue;
    if (byId.has(id)) note(twice, id);
    else byId.set(id, child);
  }

  return {
    name,
    all: (tag) => children.filter((child) => child.name === tag),
    find(id, from) {
      const found = byId.get(id) ?? null;
      if (id !== '' && found === null) lost.add(`${id} of ${from}`);
      return found;
    },
    member,
    issues() {
      const told = [...issues];
      if (twice.count > 0)
        told.push(
          isoIssue(
            'iso-id-twice',
            'warning',
            name,
            tallyText(twice, 'ids'),
            'every id once',
            'The first of each is used',
          ),
        );
      if (lost.size > 0)
        told.push(
          isoIssue(
            'iso-reference-lost',
            'warning',
            name,
            listed([...lost]),
            'ids that are in the file',
            'What they name is not known',
          ),
        );
      const unused = files.filter((own) => !used.has(own)).map((own) => baseName(own.name));
      if (unused.length > 0) told.push(notUsed(name, unused));
      return told;
    },
  };
}

function nameCase(where: string, base: string): Issue {
  return isoIssue(
    'iso-file-name-case',
    'note',
    where,
    baseName(where),
    base,
    'The file is read all the same',
    'Rename it: some terminals mind the case',
  );
}

function versionIssue(where: string, version: string): Issue {
  return isoIssue(
    'iso-version',
    'warning',
    where,
    version === '' ? 'no version' : `version ${version.slice(0, 20)}`,
    'version 3 or 4',
    'It is read like version 4',
  );
}

function notUsed(where: string, names: readonly string[]): Issue {
  return isoIssue(
    'iso-file-not-used',
    'note',
    where,
    listed(names),
    'grids and external files that the task file names',
    'They are not read',
    'Nothing to do',
  );
}

function listed(names: readonly string[]): string {
  return `${names.slice(0, 20).join(', ')}${names.length > 20 ? ` and ${names.length - 20} more` : ''}`;
}
