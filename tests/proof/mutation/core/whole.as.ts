/** All of the core that any test compiles for itself, in one module. */
export * from '../../../../firmware/core/index';
export * from '../../../firmware/core/storage/storage.as';
export * from '../../../firmware/core/timers/timers.as';
export { echo, lineIn, lineOutAt } from '../../../shared-protocol/echo.as';
export * from '../../exploration/explored.as';
export * from '../../fuzz/framer.as';
