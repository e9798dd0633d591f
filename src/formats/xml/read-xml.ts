import { SaxesParser } from 'saxes';
import { type Issue, Refusal } from '../../engine/issue.ts';
import type { FileBytes } from '../file-bytes.ts';
import { localName, prologOf } from './prolog.ts';
import { xmlText } from './xml-text.ts';

const MAX_BYTES = 64 * 2 ** 20;
const MAX_DEPTH = 256;
/** Elements and attributes together. */
const MAX_NODES = 5_000_000;
/** Letters handed to the parser at a time: a text kept from the document keeps only its stretch in memory. */
const STRETCH = 65_536;

const NO_ATTRIBUTES: Readonly<Record<string, string>> = {};
const NO_CHILDREN: XmlElement[] = [];
/** Stands until the root is met: the parser refuses a document without one. */
const NO_ROOT: XmlElement = { name: '', attributes: NO_ATTRIBUTES, children: NO_CHILDREN, text: '', line: 0 };

export interface XmlElement {
  /** Without its prefix: namespaces are written too variously to go by. */
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlElement[];
  /** The element's own text; blanks alone are left out. */
  readonly text: string;
  /** Where its start tag ends, from 1. */
  readonly line: number;
}

interface Growing extends XmlElement {
  children: XmlElement[];
  text: string;
}

/**
 * A well-formed XML document as a tree, by a strict parser under limits: no document type and so no entities, 64 MB,
 * 256 levels, 5 million elements and attributes. Prefixes that are not declared are noted. Throws a Refusal with the line.
 */
export function readXml(file: FileBytes): { root: XmlElement; issues: readonly Issue[] } {
  if (file.bytes.length > MAX_BYTES) {
    refuseXml('xml-size', file.name, `${file.bytes.length} bytes`, `at most ${MAX_BYTES}`);
  }
  const { text, issues } = xmlText(file);
  const { doctypeAt } = prologOf(text);
  if (doctypeAt >= 0) refuseDoctype(`${file.name} › line ${text.slice(0, doctypeAt).split('\n').length}`);
  const { root, undeclared } = parse(text, file.name);
  if (undeclared.length > 0) issues.push(undeclaredPrefix(file.name, undeclared));
  return { root, issues };
}

function parse(text: string, where: string): { root: XmlElement; undeclared: string[] } {
  const parser = new SaxesParser();
  const place = () => `${where} › line ${parser.line}:${parser.column}`;
  const open: Growing[] = [];
  const [used, declared] = [new Set<string>(), new Set(['xml', 'xmlns'])];
  let root = NO_ROOT;
  let nodes = 0;
  parser.on('error', (error) => {
    const said = error.message.replace(/^[\d:\s]+/, '').replace(/\.$/, '');
    refuseXml('xml-syntax', place(), said.slice(0, 120), 'well-formed XML');
  });
  parser.on('doctype', () => refuseDoctype(place()));
  parser.on('opentag', ({ name, attributes }) => {
    const names = Object.keys(attributes);
    nodes += 1 + names.length;
    if (nodes > MAX_NODES) {
      refuseXml('xml-nodes', place(), `over ${MAX_NODES} elements and attributes`, `at most ${MAX_NODES}`);
    }
    if (open.length >= MAX_DEPTH) {
      refuseXml(
        'xml-depth',
        place(),
        `elements nested deeper than ${MAX_DEPTH}`,
        `at most ${MAX_DEPTH} levels`,
      );
    }
    notePrefix(name, used);
    for (const own of names) {
      if (own.startsWith('xmlns:')) declared.add(own.slice(6));
      else notePrefix(own, used);
    }
    const element: Growing = {
      name: localName(name),
      // A copy is far smaller than the parser's object, and most elements have no attributes or no children.
      attributes: names.length === 0 ? NO_ATTRIBUTES : { ...attributes },
      children: NO_CHILDREN,
      text: '',
      line: parser.line,
    };
    const parent = open.at(-1);
    if (!parent) root = element;
    else if (parent.children === NO_CHILDREN) parent.children = [element];
    else parent.children.push(element);
    open.push(element);
  });
  parser.on('closetag', () => {
    open.pop();
  });
  const take = (letters: string) => {
    const element = open.at(-1);
    if (element && /\S/.test(letters)) element.text += letters;
  };
  parser.on('text', take);
  parser.on('cdata', take);
  for (let at = 0; at < text.length; at += STRETCH) parser.write(text.slice(at, at + STRETCH));
  parser.close();
  return { root, undeclared: [...used].filter((prefix) => !declared.has(prefix)) };
}

function notePrefix(name: string, used: Set<string>): void {
  const colon = name.indexOf(':');
  if (colon > 0) used.add(name.slice(0, colon));
}

function undeclaredPrefix(where: string, prefixes: readonly string[]): Issue {
  return {
    code: 'xml-prefix-undeclared',
    severity: 'note',
    where,
    found: `${prefixes.slice(0, 20).join(', ')}, not declared`,
    expected: 'a namespace for every prefix',
    effect: 'The names are read without their prefix',
    remedy: 'Nothing to do',
  };
}

function refuseDoctype(where: string): never {
  return refuseXml('xml-doctype', where, 'a document type or entity definition', 'plain elements');
}

export function refuseXml(code: string, where: string, found: string, expected: string): never {
  throw new Refusal({
    code,
    where,
    found,
    expected,
    effect: 'The file was not read',
    remedy: 'Export it again',
  });
}
