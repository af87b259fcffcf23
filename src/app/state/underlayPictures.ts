import { sayProblem } from '../../core/words';
import { say } from './desk';
import { startUnderlayWorker } from './underlayWorker';
import { currentPrinter } from './units';

/** Decoded pictures by their data; null while one is being decoded, and for good where it is refused. */
const pictures = new Map<string, ImageBitmap | null>();

async function decode(name: string, dataUri: string, onReady: () => void): Promise<void> {
  const worker = startUnderlayWorker(name);
  try {
    const answer = await worker.ask<'decode'>({ kind: 'decode', dataUri, fileName: name });
    if (answer.kind === 'failed') throw new Error(answer.claim);
    if (answer.kind === 'refused') {
      const said = sayProblem(answer.problem, currentPrinter());
      say(`${name} is not shown. ${said.what}`, 'warn', said.next);
      return;
    }
    pictures.set(dataUri, answer.result.bitmap);
    onReady();
  } catch {
    say(`${name} is not shown. It could not be read.`, 'warn', 'Bring it in again from a sound file.');
  } finally {
    worker.close();
  }
}

/**
 * A picture of the plan, decoded outside the window's thread: a plan from a stranger can carry any. Null until it is decoded,
 * when `onReady` is called, and where it is refused, which is said once.
 */
export function underlayPicture(name: string, dataUri: string, onReady: () => void): ImageBitmap | null {
  const known = pictures.get(dataUri);
  if (known !== undefined) return known;
  pictures.set(dataUri, null);
  void decode(name, dataUri, onReady);
  return null;
}
