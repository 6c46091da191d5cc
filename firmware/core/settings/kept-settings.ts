/** The settings as the shelf keeps them over power-off. */
import {
  DocumentKind,
  describeDocument,
  described,
  findDocument,
  isIntact,
  readDocument,
} from '../storage/shelf';
import { restoreSettings, SETTINGS_BYTES, settingsName } from './settings';

const kept: usize = memory.data(SETTINGS_BYTES, 8);

/** After power-up: the first values, and over them what the shelf holds; a damaged document counts as none. */
export function openSettings(): void {
  const document = findDocument(DocumentKind.Settings, settingsName);
  let length = 0;
  if (isIntact(document) && describeDocument(document)) {
    length = min(i32(described.bodyBytes), SETTINGS_BYTES);
    readDocument(document, 0, kept, length);
  }
  restoreSettings(kept, length);
}
