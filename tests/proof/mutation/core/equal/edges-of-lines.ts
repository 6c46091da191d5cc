import type { Equal } from '../../equal.js';
import { padding, sign } from './kinds.js';

const wrongAnyhow = 'a control character, and of a line with one in it nothing is taken';

/** What is read behind the end of a line or of a record, and is not taken. */
export const edgesOfLines: readonly Equal[] = [
  {
    file: 'firmware/core/protocol/line-reader.ts',
    line: 'if (at < end && load<u8>(at) == byte) {',
    change: /^i32\.lt_u as le_u$/,
    why: "behind a line's elements stands the comma of its checksum: it is taken, and then what it should lead to is missing",
  },
  {
    file: 'firmware/core/protocol/line-reader.ts',
    line: 'if (byte >= 0x80) return 0',
    change: /^i32\.ge_u as gt_u$|^0 as -1$/,
    why: wrongAnyhow,
  },
  {
    file: 'firmware/core/protocol/line-reader.ts',
    line: 'if (at >= end) return 0;',
    change: /^0 as -1$/,
    why: wrongAnyhow,
  },
  {
    file: 'firmware/core/protocol/line-reader.ts',
    line: 'const paired = unit < 0xdc00 && at + 6 <= end',
    change: /^6 as 5$/,
    why: 'three digits and the end are no second half either',
  },
  {
    file: 'firmware/core/protocol/recipe-lines.ts',
    line: 'changetype<usize>(recipeFine), RECIPE_FINE_BYTES);',
    change: /^8 as 7$/,
    why: `${padding}; a document ends with a whole fine part or before the first`,
  },
  {
    file: 'firmware/core/protocol/recipe-lines.ts',
    line: 'RECIPE_PASS_BYTES,',
    below: 'changetype<usize>(recipePass),',
    change: /^56 as 55$/,
    why: padding,
  },
  {
    file: 'firmware/core/protocol/record-codec.ts',
    line: 'putHex(load<u32>(at), 8);',
    change: sign,
    why: 'eight digits are its 32 bits, whatever stands above them',
  },
  {
    file: 'firmware/core/protocol/requests.ts',
    line: 'return stream(Stream.RecipeList, u32(-1), 0, id);',
    change: /^-1 as -2$/,
    why: 'whatever is below zero asks for the first document',
  },
  {
    file: 'firmware/core/protocol/board-name.ts',
    line: 'memory.fill(place, 0, BOARD_NAME_BYTES);',
    change: /^40 as 41$/,
    why: 'the first byte of the record of what ends a list, which is set whenever that is told',
  },
  {
    file: 'firmware/core/protocol/keeping.ts',
    line: 'removeDocument(DocumentKind.Recipe, name, MessageType.RecipeRemove, id, crc);',
    change: /^23 as 24$/,
    why: 'recipe-remove and choose are answered alike when the flash has it: no more happens then with either',
  },
  {
    file: 'firmware/core/protocol/upload.ts',
    line: 'return NO_WORDS;',
    change: /^0 as 1$/,
    why: 'only what was not taken is put into words, and all of that has some',
  },
];
