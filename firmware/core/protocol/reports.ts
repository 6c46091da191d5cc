/** Answers that say how things stand. */
import { boardId, linkFaults } from '../board';
import { chosenJob, chosenName, lensIsConfirmed, pedalIsStuck, runStateNow } from '../evening/evening';
import {
  counters,
  setting,
  status,
  welcome,
  writeCounters,
  writeSetting,
  writeStatus,
  writeWelcome,
} from '../generated/codec';
import { FIRMWARE_VERSION, LinkFault, PROTOCOL_VERSION, SCHEMA_HASH } from '../generated/constants';
import { entriesLost } from '../log/outbox';
import { settingValue } from '../settings/settings';
import { endSeq, room } from '../storage/ring';
import { countDocuments, DocumentKind } from '../storage/shelf';
import { bootNumber, forgottenSeq } from '../storage/tally';
import { repeats } from './answers';
import { longLines } from './framer';
import { badCrcs, badLines } from './line-faults';
import { noticesDropped } from './notices';
import { refusals } from './refusals';
import { copyText } from './texts';

const identity: usize = memory.data(8, 8);

export function writeWelcomeLine(id: i32, nowUs: i64): void {
  boardId(identity);
  welcome.protocol = PROTOCOL_VERSION;
  welcome.schemaHash = SCHEMA_HASH;
  copyText(welcome.firmwareVersion, FIRMWARE_VERSION);
  welcome.boardId = bswap<u64>(load<u64>(identity));
  welcome.boot = u16(bootNumber);
  welcome.uptimeMs = u32(nowUs / 1000);
  writeWelcome(welcome, id);
}

export function writeStatusLine(id: i32, nowUs: i64): void {
  status.state = u8(runStateNow());
  status.job = u8(chosenJob());
  copyText(status.name, chosenName());
  status.lensConfirmed = lensIsConfirmed();
  status.pedalStuck = pedalIsStuck();
  status.oldestSeq = forgottenSeq + 1;
  status.nextSeq = endSeq();
  status.entriesLeft = room();
  status.recipes = u8(countDocuments(DocumentKind.Recipe));
  status.boot = u16(bootNumber);
  status.uptimeMs = u32(nowUs / 1000);
  writeStatus(status, id);
}

export function writeCountersLine(id: i32): void {
  counters.badLines = badLines;
  counters.badCrcs = badCrcs;
  counters.longLines = longLines;
  counters.repeats = repeats;
  counters.refusals = refusals;
  counters.noticesDropped = noticesDropped;
  counters.overruns = linkFaults(LinkFault.Overrun);
  counters.framingErrors = linkFaults(LinkFault.Framing);
  counters.breaks = linkFaults(LinkFault.Break);
  counters.lostInRing = linkFaults(LinkFault.LostInRing);
  counters.entriesLost = entriesLost;
  writeCounters(counters, id);
}

export function writeSettingLine(name: i32, id: i32): void {
  setting.name = u8(name);
  setting.value = settingValue(name);
  writeSetting(setting, id);
}
