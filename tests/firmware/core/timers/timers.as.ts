/** The core's timers alone. */
export {
  askForDeadline,
  clearTimers,
  deadlineServed,
  dueUs,
  firstDue,
  setTimer,
} from '../../../../firmware/core/timers/timers';
