import type { Answer, FileKind, OpenedFile } from '../contract';

/** Asks for a file through the page's own file field: the one chooser that every browser and every test can answer. */
export function chooseFile(kinds: readonly FileKind[]): Promise<Answer<OpenedFile>> {
  return new Promise((resolve) => {
    const field = document.createElement('input');
    field.type = 'file';
    field.accept = kinds.flatMap((kind) => kind.extensions.map((extension) => `.${extension}`)).join(',');
    field.hidden = true;
    field.dataset.role = 'file-chooser';
    document.body.append(field);
    const finish = (answer: Answer<OpenedFile>): void => {
      field.remove();
      resolve(answer);
    };
    field.addEventListener('cancel', () => finish({ kind: 'cancelled' }));
    field.addEventListener('change', () => {
      const chosen = field.files?.[0];
      if (!chosen) {
        finish({ kind: 'cancelled' });
        return;
      }
      chosen.arrayBuffer().then(
        (buffer) =>
          finish({
            kind: 'done',
            value: { file: null, name: chosen.name, bytes: new Uint8Array(buffer) },
          }),
        (reason: unknown) => finish({ kind: 'refused', code: 'host.cannot-read', detail: String(reason) }),
      );
    });
    field.click();
  });
}
