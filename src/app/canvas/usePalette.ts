import { useEffect, useState } from 'react';
import { type Palette, readPalette } from '../look/palette';
import { useDesk } from '../state/desk';

/** The palette on the page; read again when the look changes here or in the operating system. */
export function usePalette(): Palette {
  const look = useDesk((state) => state.look);
  const [palette, setPalette] = useState(readPalette);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a change of look is the reason to read again
  useEffect(() => {
    const read = (): void => setPalette(readPalette());
    read();
    const questions = ['(prefers-color-scheme: dark)', '(prefers-contrast: more)'].map((text) =>
      matchMedia(text),
    );
    for (const question of questions) question.addEventListener('change', read);
    document.fonts.addEventListener('loadingdone', read);
    return () => {
      for (const question of questions) question.removeEventListener('change', read);
      document.fonts.removeEventListener('loadingdone', read);
    };
  }, [look]);
  return palette;
}
