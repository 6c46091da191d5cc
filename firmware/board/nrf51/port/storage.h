/* The storage region: what lies behind the program's 512 KiB. */
#ifndef TREADLE_PORT_STORAGE_H
#define TREADLE_PORT_STORAGE_H

#define STORAGE_AT 0x80000
#define STORAGE_BYTES 0x180000

#endif
