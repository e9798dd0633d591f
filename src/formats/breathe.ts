/** Called between the pieces of long work, with what is being done in words: resolves when it may go on, rejects when it is to stop. */
export type Breathe = (doing: string) => Promise<void>;

/** Never stops: for work that nobody waits for. */
export const goOn: Breathe = () => Promise.resolve();
