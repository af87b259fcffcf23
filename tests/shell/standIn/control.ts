import type { EventEmitter } from 'node:events';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserWindow } from './electron';

export type MessageHandler = (event: unknown, ...args: unknown[]) => unknown;

/** A menu item as the shell describes it. */
export interface MenuItem {
  readonly id?: string;
  readonly label?: string;
  readonly role?: string;
  readonly accelerator?: string;
  readonly registerAccelerator?: boolean;
  readonly submenu?: readonly MenuItem[];
  readonly click?: () => void;
}

/** What a test reads and steers of the runtime that the stand-in plays. */
export const control = {
  dataFolder: mkdtempSync(join(tmpdir(), 'rillsheet-shell-')),
  /** False: windows load no page, for tests of messages alone. */
  hasPages: true,
  isOnlyInstance: true,
  openAnswers: [] as (string | null)[],
  saveAnswers: [] as (string | null)[],
  /** Buttons pressed in message boxes, by index. */
  messageAnswers: [] as number[],
  dialogs: [] as { readonly kind: string; readonly options: Readonly<Record<string, unknown>> }[],
  windows: [] as BrowserWindow[],
  menu: [] as readonly MenuItem[],
  handlers: new Map<string, MessageHandler>(),
  protocols: new Map<string, (request: Request) => Promise<Response>>(),
  privileges: new Map<string, Readonly<Record<string, unknown>>>(),
  permissionRequest: null as
    | ((contents: unknown, permission: string, decide: (isAllowed: boolean) => void) => void)
    | null,
  permissionCheck: null as (() => boolean) | null,
  recentDocuments: [] as string[],
  /** Addresses a page asked for and did not get, because no protocol of the app's answers for them. */
  refusedAddresses: [] as string[],
  complaints: [] as string[],
  printed: 0,
  hasQuit: false,
};

/** An event the shell may hold back. */
export class Holdable {
  defaultPrevented = false;
  preventDefault(): void {
    this.defaultPrevented = true;
  }
}

/** Tells listeners and says whether one of them held the matter back. */
export function isHeldBack(emitter: EventEmitter, name: string, ...args: unknown[]): boolean {
  const event = new Holdable();
  emitter.emit(name, event, ...args);
  return event.defaultPrevented;
}
