import { tick } from 'svelte';

/** Put the focus on the first of these that is there once the screen has changed: what had it may be gone. */
export async function focusOn(...ids: readonly string[]): Promise<void> {
  await tick();
  for (const id of ids) {
    const found = document.getElementById(id);
    if (!found) continue;
    found.focus();
    return;
  }
}
