/**
 * Where the state lies. The first file that the compiler comes to, so that it lies low in memory: addresses of two
 * bytes in place of three make the core half a kilobyte smaller.
 */
export const STATE_ROOM: usize = 936;
export const STATE: usize = memory.data(<i32>STATE_ROOM, 8);
