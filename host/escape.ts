/**
 * Text for XML, SVG and HTML, in content and in quoted attributes alike. Control characters, which no page
 * may hold, become a visible replacement.
 * Source: HTML Living Standard, 'Escaping a string'; XML 1.0, 2.2 Characters and 2.4.
 */
export function escapeXml(text: string): string {
  return text
    .toWellFormed()
    .replace(NOT_XML, '\ufffd')
    .replace(/[&<>"']/g, (character) => entities[character]!);
}

const entities: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

// C0 but tab and newlines, DEL and C1, and the two that XML excludes by name.
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what it looks for
const NOT_XML = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffe\uffff]/g;
