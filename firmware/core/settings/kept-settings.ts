/** The settings as the shelf keeps them over power-off. */
import { DocumentKind, readWhole } from '../storage/shelf';
import { restoreSettings, SETTINGS_BYTES, settingsName } from './settings';

const kept: usize = memory.data(SETTINGS_BYTES, 8);

/** After power-up: the first values, and over them what the shelf holds; a damaged document counts as none. */
export function openSettings(): void {
  const length = readWhole(DocumentKind.Settings, settingsName, kept, SETTINGS_BYTES);
  restoreSettings(kept, min(length, SETTINGS_BYTES));
}
