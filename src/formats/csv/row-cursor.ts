import { Refusal } from '../../engine/issue.ts';
import { POWERS } from '../text/number-bytes.ts';

/** No table has a longer row or more cells in one: memory stays bounded whatever the file. */
const LONGEST_ROW = 16 * 2 ** 20;
const MOST_CELLS = 1 << 16;

/** How a cell was written. */
const PLAIN = 0;
const QUOTED = 1;
/** Quoted, with doubled quotes inside. */
export const DOUBLED = 2;

/**
 * Walks delimited text row by row over bytes (RFC 4180; LF, CR and CRLF all end a row). `next` fills `starts`,
 * `ends` and `marks` for the cells of one row, without their quotes, and returns how many there are, −1 at the end.
 *
 * Plain numbers of up to 15 digits, and no leading zero, are read in passing into `values`, NaN for anything else, which may be a number in another dress. With so few digits over a
 * power of ten one division is correctly rounded, so it is the same number that `numberFromBytes` gives.
 */
export class RowCursor {
  starts = new Int32Array(64);
  ends = new Int32Array(64);
  marks = new Uint8Array(64);
  values = new Float64Array(64);
  /** Line (from 1) where the row just read began. */
  line = 0;
  /** Byte where the row just read began. */
  offset = 0;
  /** The row just read has something other than blanks between a closing quote and the next delimiter. */
  malformed = false;
  private readonly bytes: Uint8Array;
  private readonly delimiter: number;
  private readonly where: string;
  private readonly point: number;
  /** Byte and line where the next row begins. */
  at: number;
  nextLine: number;

  constructor(bytes: Uint8Array, delimiter: number, where: string, at = 0, line = 1, point = 46) {
    this.bytes = bytes;
    this.delimiter = delimiter;
    this.where = where;
    this.at = at;
    this.nextLine = line;
    this.point = point;
  }

  next(): number {
    // Constants of the module would be fetched anew for every byte.
    const QUOTE = 34;
    const LF = 10;
    const CR = 13;
    const MINUS = 45;
    const ZERO = 48;
    const { bytes, delimiter, point } = this;
    const n = bytes.length;
    let at = this.at;
    if (at >= n) return -1;
    this.line = this.nextLine;
    this.offset = at;
    this.malformed = false;
    let cells = 0;
    for (;;) {
      if (cells === this.starts.length) this.widen();
      let start = at;
      let mark = PLAIN;
      let end: number;
      let value = Number.NaN;
      if (bytes[at] === QUOTE) {
        start = at + 1;
        end = this.closingQuote(start);
        mark = this.sawDoubled ? DOUBLED : QUOTED;
        at = end + 1;
        for (; at < n && bytes[at] !== delimiter && bytes[at] !== LF && bytes[at] !== CR; at++) {
          if (bytes[at] !== 32) this.malformed = true;
        }
      } else {
        const negative = bytes[at] === MINUS;
        if (negative) at++;
        let mantissa = 0;
        const first = at;
        for (let digit = bytes[at] - ZERO; digit >= 0 && digit <= 9; digit = bytes[at] - ZERO) {
          mantissa = mantissa * 10 + digit;
          at++;
        }
        const whole = at - first;
        let decimals = 0;
        if (bytes[at] === point) {
          decimals = ++at;
          for (let digit = bytes[at] - ZERO; digit >= 0 && digit <= 9; digit = bytes[at] - ZERO) {
            mantissa = mantissa * 10 + digit;
            at++;
          }
          decimals = at - decimals;
        }
        const digits = whole + decimals;
        end = at;
        for (; at < n; at++) {
          const byte = bytes[at];
          if (byte === delimiter || byte === LF || byte === CR) break;
        }
        if (at === end && digits > 0 && digits <= 15 && (whole < 2 || bytes[first] !== ZERO)) {
          value = mantissa / POWERS[decimals];
          if (negative && value !== 0) value = -value;
        }
        end = at;
      }
      this.starts[cells] = start;
      this.ends[cells] = end;
      this.values[cells] = value;
      this.marks[cells++] = mark;
      if (at >= n) break;
      const byte = bytes[at++];
      if (byte === delimiter) continue;
      if (byte === CR && bytes[at] === LF) at++;
      this.nextLine++;
      break;
    }
    if (at - this.offset > LONGEST_ROW)
      this.refuseRow(`a row of ${at - this.offset} bytes`, `at most ${LONGEST_ROW}`);
    this.at = at;
    return cells;
  }

  private sawDoubled = false;

  private closingQuote(start: number): number {
    const [QUOTE, LF, CR] = [34, 10, 13];
    const { bytes } = this;
    const opened = this.nextLine;
    this.sawDoubled = false;
    for (let at = start; at < bytes.length; at++) {
      const byte = bytes[at];
      if (byte === LF || (byte === CR && bytes[at + 1] !== LF)) this.nextLine++;
      if (byte !== QUOTE) continue;
      if (bytes[at + 1] !== QUOTE) return at;
      this.sawDoubled = true;
      at++;
    }
    throw new Refusal({
      code: 'csv-unclosed-quote',
      where: `${this.where} › line ${opened}`,
      found: 'a quote that is never closed',
      expected: 'a closing quote before the next column',
      effect: 'The file was not read',
      remedy: 'Close or remove the quote on this line',
    });
  }

  private refuseRow(found: string, expected: string): never {
    throw new Refusal({
      code: 'csv-row-too-long',
      where: `${this.where} › line ${this.line}`,
      found,
      expected,
      effect: 'The file was not read',
      remedy: 'Export it as CSV again, one record a line',
    });
  }

  private widen(): void {
    if (this.starts.length >= MOST_CELLS)
      this.refuseRow(`more than ${MOST_CELLS} cells in a row`, `at most ${MOST_CELLS}`);
    const wider = (old: Int32Array) => {
      const cells = new Int32Array(old.length * 2);
      cells.set(old);
      return cells;
    };
    this.starts = wider(this.starts);
    this.ends = wider(this.ends);
    const marks = new Uint8Array(this.marks.length * 2);
    marks.set(this.marks);
    this.marks = marks;
    const values = new Float64Array(this.values.length * 2);
    values.set(this.values);
    this.values = values;
  }
}
