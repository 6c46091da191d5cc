/* The storage region of this board's flash chip of 2 MB: its end. The program is at the start (image.ld). */
#ifndef TREADLE_PORT_STORAGE_H
#define TREADLE_PORT_STORAGE_H

#define STORAGE_AT 0x80000
#define STORAGE_BYTES 0x180000

#endif
