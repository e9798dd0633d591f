/** Every way to part `zones` zones into just so many blocks, each of one zone or more: set partitions by their restricted growth (Knuth 2011, The Art of Computer Programming 4A, 7.2.1.5). The blocks are those of the walk: copy what is kept. */
export function* waysToBlock(zones: number, blocks: number, begun: number[][] = []): Generator<number[][]> {
  const placed = begun.reduce((sum, block) => sum + block.length, 0);
  if (placed === zones) {
    if (begun.length === blocks) yield begun;
    return;
  }
  // Too few are left to begin the blocks that lack.
  if (blocks - begun.length > zones - placed) return;
  for (const block of begun) {
    block.push(placed);
    yield* waysToBlock(zones, blocks, begun);
    block.pop();
  }
  if (begun.length === blocks) return;
  begun.push([placed]);
  yield* waysToBlock(zones, blocks, begun);
  begun.pop();
}
