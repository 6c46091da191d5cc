/** Text that cannot be read as what it should be; the message says what was given and what would be understood. */
export class UnreadableText extends Error {
  override readonly name = 'UnreadableText';
}
