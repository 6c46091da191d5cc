/** Text that would do harm on a page if it were anything but text there. */
export const hostileTexts = [
  '<script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  "' onload='alert(1)",
  '</text></svg><script>',
  '&lt;script&gt;',
  ']]><!--',
  '\u202e\u0007\u001b[31m\u009b31m',
] as const;

/** Whether a page holds only elements that were meant: no script, no handler, nothing that loads. */
export function suspiciousParts(page: string): string[] {
  const found: string[] = [];
  for (const [tag] of page.matchAll(/<[^>]*>/g)) {
    if (/^<\/?\s*(script|iframe|object|embed|foreignObject|a|form|base|link)\b/i.test(tag)) found.push(tag);
    const withoutValues = tag.replace(/"[^"]*"/g, '""');
    if (/\son\w+\s*=/i.test(withoutValues)) found.push(tag);
    if (/\s(?:href|src)="(?!data:image\/png;base64,|#)/i.test(tag)) found.push(tag);
  }
  return found;
}

/** Every tag closed in its order, as XML has it. */
export function openTags(xml: string): string[] {
  const open: string[] = [];
  for (const [, end, name, empty] of xml.matchAll(/<(\/?)([a-zA-Z]+)(?:\s[^<>]*?)?(\/?)>/g)) {
    if (empty === '/') continue;
    if (end !== '/') open.push(name!);
    else if (open.pop() !== name) return [`unexpected end of ${name}`];
  }
  return open;
}
