/** Where a Chromium is; null when there is none. */
export function chromiumPath(): string | null;
/** Make sure there is a Chromium, or say what to install and stop. */
export function chromiumOrExit(): void;
