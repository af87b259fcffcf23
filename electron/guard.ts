import { app, session, type WebContents } from 'electron';

/** Keeps one page where it is: no new windows, no way to another address, no page within the page. */
function guardContents(contents: WebContents): void {
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
  contents.on('will-navigate', (event) => event.preventDefault());
  contents.on('will-redirect', (event) => event.preventDefault());
  contents.on('will-attach-webview', (event) => event.preventDefault());
}

/** Guards every page this program will ever make, the printing window too, and denies every permission a page may ask for. */
export function guardPages(): void {
  app.on('web-contents-created', (_event, contents) => guardContents(contents));
}

/** Denies every permission, whether asked for or only looked up. Call once the program is ready. */
export function denyPermissions(): void {
  session.defaultSession.setPermissionRequestHandler((_contents, _permission, decide) => decide(false));
  session.defaultSession.setPermissionCheckHandler(() => false);
}
