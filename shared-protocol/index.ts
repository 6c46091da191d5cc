export {
  type Decoded,
  decodeLine,
  EncodeError,
  encodeLine,
  type LineFault,
  lineChecksum,
} from './codec.js';
export { fieldsOf } from './fields.js';
export { schemaHash, version } from './generated/versions.js';
export { limits } from './limits.js';
export { nameNow } from './names-before.js';
export { type RecordMessage, type RecordType, readRecord } from './read-record.js';
export { type EndOf, type LineOf, type RequestType, replies, replyTo } from './replies.js';
export {
  clockRangeMs,
  type ErrorCode,
  errorCodes,
  type Fields,
  type Message,
  type MessageOf,
  type MessageType,
  messages,
  messageTypes,
  protocolVersion,
  type Role,
  type SettingName,
  settingAllows,
  settingRange,
  settings,
  type TypeOfRole,
} from './schema.js';
