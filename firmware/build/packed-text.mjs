/**
 * A step of the core's compiler: each `ascii('...')` becomes the place of a text as the core keeps them, a length
 * byte and the letters. A string object would take 20 bytes and two more a letter. Equal texts share one place.
 */
import { CallExpression, LiteralKind, Node } from 'assemblyscript';

const callee = 'ascii';
/** What a length byte can say. */
const longestText = 255;
/** What a file of the compiler's library exports is known everywhere, so no file has to import the places. */
const placesFile = '~lib/packed-texts.ts';

export default class PackedTexts {
  /** All texts, one after the other: as one piece of data, because each piece costs seven bytes beside its own. */
  #bytes = [];
  /** Where in it each text begins. */
  #offsets = new Map();

  afterParse(parser) {
    for (const source of parser.sources) if (!source.isLibrary) this.#pack(source, new Set([source]));
    parser.parseFile(this.#places(), placesFile, false);
  }

  /** Walks the tree below a node: whatever it holds, alone or in a list. */
  #pack(node, seen) {
    for (const [name, held] of Object.entries(node)) {
      const [holder, keys] = Array.isArray(held) ? [held, held.keys()] : [node, [name]];
      for (const key of keys) {
        const child = holder[key];
        if (!(child instanceof Node) || seen.has(child)) continue;
        seen.add(child);
        if (isText(child)) holder[key] = this.#placeOf(child);
        else this.#pack(child, seen);
      }
    }
  }

  #placeOf(call) {
    const text = textOf(call);
    if (!this.#offsets.has(text)) {
      this.#offsets.set(text, this.#bytes.length);
      this.#bytes.push(text.length, ...Buffer.from(text));
    }
    return Node.createIdentifierExpression(nameOf(this.#offsets.get(text)), call.range);
  }

  /** A lazy constant is compiled where it is first reached, so a core that uses no text carries none. */
  #places() {
    const places = [...this.#offsets.values()].map(
      (offset) => `@lazy export const ${nameOf(offset)}: usize = packedTexts + ${offset};`,
    );
    return [`@lazy const packedTexts: usize = memory.data<u8>([${this.#bytes}]);`, ...places].join('\n');
  }
}

function nameOf(offset) {
  return `packedText${offset}`;
}

function isText(node) {
  return node instanceof CallExpression && node.expression.text === callee;
}

/** @throws Error that names the file and line, when it is not one piece of printable ASCII. */
function textOf(call) {
  const [words, ...more] = call.args;
  const isString = words?.literalKind === LiteralKind.String && more.length === 0;
  if (isString && words.value.length <= longestText && /^[ -~]*$/.test(words.value)) return words.value;
  const { source, start } = call.range;
  const error = new Error(
    `${source.normalizedPath}:${source.lineAt(start)}: ${callee} takes one string literal of printable ASCII, at most ${longestText} letters`,
  );
  // The compiler shows the stack, which would be this file's.
  error.stack = error.message;
  throw error;
}
