import { BrowserWindow } from 'electron';
import type { Answer } from '../src/host/contract';

/** Shows the system's print dialogue for a finished PDF, from a window of its own that nobody sees. */
export async function printPdf(pdf: Uint8Array): Promise<Answer<null>> {
  const sheet = new BrowserWindow({
    show: false,
    webPreferences: {
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      webviewTag: false,
      plugins: true,
    },
  });
  try {
    await sheet.loadURL(`data:application/pdf;base64,${Buffer.from(pdf).toString('base64')}`);
    return await new Promise((resolve) => {
      sheet.webContents.print({}, (isPrinted, reason) =>
        resolve(
          isPrinted
            ? { kind: 'done', value: null }
            : { kind: 'refused', code: 'host.not-printed', detail: reason },
        ),
      );
    });
  } catch (error) {
    return { kind: 'refused', code: 'host.not-printed', detail: String(error) };
  } finally {
    sheet.destroy();
  }
}
