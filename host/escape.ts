import { REPLACEMENT, unsafeCharacters } from './unsafe-characters.js';

/**
 * Text for XML, SVG and HTML, in content and in quoted attributes alike. Control characters, which no page
 * may hold, and marks that turn the reading direction become a visible replacement.
 * Source: HTML Living Standard, 'Escaping a string'; XML 1.0, 2.2 Characters and 2.4.
 */
export function escapeXml(text: string): string {
  return text
    .replace(unsafeCharacters, (found) => (LINES.has(found) ? found : REPLACEMENT))
    .replace(NOT_XML, REPLACEMENT)
    .replace(/[&<>"']/g, (character) => entities[character]!);
}

const entities: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

const LINES = new Set(['\t', '\n', '\r']);

// The two that XML excludes by name.
const NOT_XML = /[\ufffe\uffff]/g;
