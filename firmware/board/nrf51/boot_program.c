/*
 * This chip has no boot program: new firmware comes through its debug port, for which nothing has to make way. So the board
 * only starts again, and says that it was for new firmware's sake.
 */
#include "chip/boot_program.h"

#include "chip/fault.h"

void boot_program_start(void) { fault_stop(START_CAUSE_NEW_FIRMWARE, 0); }
