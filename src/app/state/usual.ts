import type { SettingKey } from '../../core/catalog';
import { faultOfUsual } from '../usualFigures';
import { say } from './desk';
import { edit } from './edit';

/** Sets a default otherwise for this plan; null lets it be as usual. False, with the reason in the header, where it cannot be. */
export function setUsual(key: SettingKey, value: number | null): boolean {
  const fault = value === null ? null : faultOfUsual(key, value);
  if (fault !== null) {
    say(fault, 'warn', 'Nothing was changed.');
    return false;
  }
  return edit({ name: 'set-setting', params: { key, value } });
}
