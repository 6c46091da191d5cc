import type { Board } from '../../../host/board/link/board.js';
import type { RequestType } from '../../../shared-protocol/index.js';
import { recipe, strip } from '../../host/board/link/laptop.js';
import { collectLog } from './collected.js';

interface LibraryCall {
  /** The request whose answer is lied about. */
  readonly request: RequestType;
  ask(board: Board): Promise<unknown>;
}

const bath = {
  label: 'stop',
  resinCoatedSeconds: 30,
  fibreSeconds: 60,
  drainSeconds: 5,
  agitationSeconds: 10,
  limitCm2: 0,
};
const bathTime = { label: 'stop', trayC10: 200, resinCoatedSeconds: 30, fibreSeconds: 60 };
const send = (board: Board) => board.sendRecipe(recipe('Jetty'));

/** Each thing that the library asks of a board, so that every answer of the schema is lied about at least once. */
export const libraryCalls: Readonly<Record<string, LibraryCall>> = {
  status: { request: 'ping', ask: (board) => board.status() },
  counters: { request: 'diagnose', ask: (board) => board.counters() },
  setClock: { request: 'set-clock', ask: (board) => board.setClock() },
  getSetting: { request: 'get-setting', ask: (board) => board.getSetting('tone-volume') },
  setSetting: { request: 'set-setting', ask: (board) => board.setSetting('tone-volume', 30) },
  listRecipes: { request: 'recipe-list', ask: (board) => board.listRecipes() },
  getRecipe: { request: 'recipe-get', ask: (board) => board.getRecipe('jetty') },
  beginRecipe: { request: 'recipe-begin', ask: send },
  commitRecipe: { request: 'recipe-commit', ask: send },
  removeRecipe: { request: 'recipe-remove', ask: (board) => board.removeRecipe('jetty') },
  choose: { request: 'choose', ask: (board) => board.choose('strip') },
  setStrip: { request: 'strip-set', ask: (board) => board.setStrip(strip) },
  setBaths: { request: 'bath-set', ask: (board) => board.setBaths([bath]) },
  allBaths: { request: 'bath-get', ask: (board) => board.allBaths() },
  setBathTimes: { request: 'point-set', ask: (board) => board.setBathTimes([bathTime]) },
  allBathTimes: { request: 'point-get', ask: (board) => board.allBathTimes() },
  clearBathTimes: { request: 'points-clear', ask: (board) => board.setBathTimes([]) },
  renewBath: { request: 'bath-renew', ask: (board) => board.renewBath(1) },
  getName: { request: 'name-get', ask: (board) => board.getName() },
  setName: { request: 'name-set', ask: (board) => board.setName('garage') },
  collect: { request: 'collect', ask: (board) => collectLog(board) },
  askToMakeWay: { request: 'make-way', ask: (board) => board.askToMakeWay() },
  makingWay: { request: 'make-way', ask: (board) => board.makingWay() },
  forget: { request: 'forget', ask: (board) => board.forget(3) },
};
