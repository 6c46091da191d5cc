/* The storage region of a chip with 1 MiB of flash, as the largest of its family has: the second half. */
#ifndef TREADLE_PORT_STORAGE_H
#define TREADLE_PORT_STORAGE_H

#define STORAGE_AT 0x80000
#define STORAGE_BYTES 0x80000

#endif
