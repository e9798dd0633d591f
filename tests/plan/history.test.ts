import { describe, expect, it } from 'vitest';
import { present, record, redo, startHistory, undo } from '../../src/plan/history.ts';

describe('history', () => {
  const three = record(record(startHistory('a'), 'b', 'first'), 'c', 'second');

  it('goes back and forth, and stops at both ends', () => {
    expect(present(three)).toBe('c');
    expect(present(undo(three))).toBe('b');
    expect(present(undo(undo(undo(three))))).toBe('a');
    expect(present(redo(undo(three)))).toBe('c');
    expect(redo(three)).toBe(three);
    expect(present(redo(redo(undo(undo(three)))))).toBe('c');
  });

  it('forgets what was undone once something else is done', () => {
    const other = record(undo(three), 'd', 'third');
    expect(other.states.map(({ value }) => value)).toEqual(['a', 'b', 'd']);
    expect(redo(other)).toBe(other);
  });

  it('says what was done', () => {
    expect(three.states.map(({ note }) => note)).toEqual(['opened', 'first', 'second']);
  });

  it('takes a drag for one state', () => {
    let dragged = record(startHistory(0), 1, 'price', true);
    for (const value of [2, 3]) dragged = record(dragged, value, 'price', true);
    expect(dragged.states.map(({ value }) => value)).toEqual([0, 3]);
    expect(present(undo(dragged))).toBe(0);
    expect(record(dragged, 4, 'emergence', true).states).toHaveLength(3);
  });

  it('never merges into the state it was opened with', () => {
    expect(record(startHistory(0), 1, 'opened', true).states).toHaveLength(2);
  });

  it('does not note a change that changes nothing', () => {
    expect(record(three, 'c', 'again')).toBe(three);
  });

  it('leaves earlier histories as they were', () => {
    const before = JSON.stringify(three);
    record(undo(three), 'x', 'y');
    expect(JSON.stringify(three)).toBe(before);
  });

  it('keeps the last 200 states', () => {
    let long = startHistory(0);
    for (let k = 1; k <= 500; k++) long = record(long, k, `step ${k}`);
    expect(long.states).toHaveLength(200);
    expect(present(long)).toBe(500);
    for (let k = 0; k < 300; k++) long = undo(long);
    expect(present(long)).toBe(301);
  });
});
