import { z } from 'zod';
import { UnreadableText } from './unreadable-text.js';

/** Text in the file, a value in the program; `read` throws UnreadableText with words for people. */
export function written<Value = number>(
  read: (text: string) => Value,
  format: (value: Value) => string,
  about: { description: string; pattern: string; examples: string[] },
) {
  return z.codec(z.string().meta(about), z.custom<Value>(), {
    encode: format,
    decode: (value, context) => {
      try {
        return read(value);
      } catch (error) {
        if (!(error instanceof UnreadableText)) throw error;
        context.issues.push({ code: 'custom', input: value, message: error.message });
        return z.NEVER;
      }
    },
  });
}
