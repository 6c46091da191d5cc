import { expect, it } from 'vitest';
import type { CoreEffects } from '../../../host/core/generated/core-interface.js';
import { startCore } from '../../../host/core/load-core.js';
import { settings } from '../../../shared-protocol/schema.js';

/** A board with an empty flash that writes down what it is told to do, and does nothing. */
function bootEffects(): string[] {
  const told: string[] = [];
  const note =
    (name: string) =>
    (...figures: readonly (number | bigint)[]): void => {
      told.push([name, ...figures.slice(0, 1)].join(' '));
    };
  const effects: CoreEffects = {
    ...{ exposeUs: note('exposeUs'), focusUs: note('focusUs'), lampOff: note('lampOff') },
    ...{ safelight: note('safelight'), makeWay: note('makeWay'), wakeAtUs: note('wakeAtUs') },
    ...{ showLine: note('showLine'), displayLight: note('displayLight'), tone: note('tone') },
    ...{ flashRead: note('flashRead'), flashProgram: note('flashProgram'), flashErase: note('flashErase') },
    ...{ boardId: note('boardId'), sendBytes: () => 1, linkFaults: () => 0 },
  };
  startCore(effects).boot(0n, 0, 0);
  return told.filter((effect) => !effect.startsWith('flash') && !effect.startsWith('boardId'));
}

// Whatever a board did before its core began: the lamp is off, the room is lit, and the panel says what the pedal does.
it('with its first event the core puts the lamp out, lights safelight and display and shows all rows', () => {
  const told = bootEffects();
  expect(told.slice(0, 3)).toEqual([
    'lampOff',
    'safelight 1',
    `displayLight ${settings['display-light'].initial}`,
  ]);
  expect(told.filter((effect) => effect.startsWith('showLine'))).toEqual([
    ...['showLine 0', 'showLine 1', 'showLine 2', 'showLine 3'],
  ]);
  expect(told.filter((effect) => /expose|focus|makeWay|tone/.test(effect))).toEqual([]);
});
