import { prove } from '../jobs/prove.ts';
import { loadHandOff } from './hand-off-folder.ts';
import { proofText } from './report-text.ts';
import { DONE, progress, tell, tellJson, WRONG_INPUT } from './tell.ts';

/** `eachacre verify DIR`: the proof of a hand-off that is already there, from its bytes alone. */
export async function verify(folder: string, options: { json?: boolean }): Promise<number> {
  const control = progress();
  try {
    const { files, strays } = loadHandOff(folder);
    const proof = await prove(files, control, strays);
    control.end();
    if (options.json) tellJson({ proof });
    else tell(proofText(proof, true));
    return proof.ok ? DONE : WRONG_INPUT;
  } finally {
    control.end();
  }
}
