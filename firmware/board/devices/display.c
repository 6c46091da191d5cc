#include "display.h"

#include "chip/i2c.h"
#include "chip/sleep.h"
#include "generated/limits.h"

enum { COLUMNS = TREADLE_DISPLAY_COLUMNS, ROWS = TREADLE_DISPLAY_ROWS, CELLS = COLUMNS * ROWS };

/*
 * The expander's pins as these display boards wire them: P0 RS, P1 R/W, P2 E, P4..P7 D4..D7. P3 stays low: as bought it
 * grounds the light through the board's own transistor, and the light could be neither dimmed nor put out.
 */
enum { EXPANDER_ADDRESS = 0x27, EXPANDER_HZ = 100000 }; /* the PCF8574's highest clock */
enum { WIRE_TEXT = 1 << 0, WIRE_ENABLE = 1 << 2 };

/* HD44780 data sheet, table of instructions. */
enum {
    FUNCTION_4_BITS_2_LINES = 0x28,
    DISPLAY_OFF = 0x08,
    CLEAR = 0x01,
    ENTRY_FORWARD = 0x06,
    DISPLAY_ON = 0x0c,
    SET_ADDRESS = 0x80,
};

/* The first address of each row of a 4 x 20 glass. */
static const uint8_t row_address[ROWS] = {0x00, 0x40, 0x14, 0x54};

enum {
    RETRY_US = 1000000,  /* between looks for a display that did not answer */
    LOOK_US = 1000000,   /* between looks for one that has nothing to show: pulled out at rest, it comes back blank */
    BATCH_US = 5000,     /* a batch of 16 bytes takes 1.5 ms; longer than this and the bus is stuck */
    BYTES_PER_WRITE = 4, /* two halves, each with E high and then low */
    CELL_NONE = 0xff,
};

/* One step of the initialisation by instruction, HD44780 data sheet figure 24, and the wait after it. */
struct start_step {
    uint8_t byte;
    bool is_half;
    uint16_t wait_us;
};

static const struct start_step start_steps[] = {
    {0x30, true, 4200},
    {0x30, true, 150},
    {0x30, true, 150},
    {0x20, true, 150},
    {FUNCTION_4_BITS_2_LINES, false, 100},
    {DISPLAY_OFF, false, 100},
    {CLEAR, false, 2000},
    {ENTRY_FORWARD, false, 100},
    {DISPLAY_ON, false, 100},
};
enum { START_STEPS = sizeof start_steps / sizeof start_steps[0], POWER_UP_US = 50000 };

static uint8_t wanted[CELLS];
static uint8_t shown[CELLS];
static uint32_t step;         /* of start_steps, or START_STEPS when it shows text */
static uint8_t cursor;        /* the cell that the controller writes next, or CELL_NONE */
static bool is_stale;         /* a cell may differ from what is wanted */
static uint8_t search_from;   /* where to look for the next difference, so that every row has its turn */
static bool batch_on_way;
static uint64_t next_us;      /* the earliest time for the next batch */
static uint64_t look_us;      /* the latest */

static void send_half(uint8_t half, uint8_t wires) {
    uint8_t bus = (uint8_t)((half & 0xf0) | wires);
    i2c_put(bus | WIRE_ENABLE);
    i2c_put(bus);
}

static void send(uint8_t byte, uint8_t wires) {
    send_half(byte, wires);
    send_half((uint8_t)(byte << 4), wires);
}

static void start_again(uint64_t at_us) {
    step = 0;
    cursor = CELL_NONE;
    batch_on_way = false;
    next_us = at_us;
    for (uint32_t cell = 0; cell < CELLS; cell++) shown[cell] = ' ';
    is_stale = true;
}

void display_start(void) {
    for (uint32_t cell = 0; cell < CELLS; cell++) wanted[cell] = ' ';
    i2c_start(EXPANDER_ADDRESS, EXPANDER_HZ);
    start_again(POWER_UP_US);
}

void display_show(int32_t row, const uint8_t *text, int32_t length) {
    if (row < 0 || row >= ROWS) return;
    uint8_t *cells = &wanted[row * COLUMNS];
    for (int32_t column = 0; column < COLUMNS; column++) cells[column] = column < length ? text[column] : ' ';
    is_stale = true;
}

static void send_start_step(uint64_t now_us) {
    const struct start_step *now = &start_steps[step++];
    if (now->is_half) send_half(now->byte, 0);
    else send(now->byte, 0);
    next_us = now_us + now->wait_us;
}

static uint8_t next_cell(uint8_t cell) { return cell + 1 == CELLS ? 0 : (uint8_t)(cell + 1); }

/* The next cell that differs, looking round from where the last batch stopped; CELL_NONE if none does. */
static uint8_t find_difference(void) {
    uint8_t cell = search_from;
    for (uint32_t count = 0; count < CELLS; count++) {
        if (wanted[cell] != shown[cell]) return cell;
        cell = next_cell(cell);
    }
    return CELL_NONE;
}

/* The controller's own cursor only runs on inside a row. */
static void send_cell(uint8_t cell) {
    send(wanted[cell], WIRE_TEXT);
    shown[cell] = wanted[cell];
    search_from = next_cell(cell);
    cursor = search_from % COLUMNS == 0 ? CELL_NONE : search_from;
}

static void send_cells(void) {
    while (i2c_room() >= BYTES_PER_WRITE) {
        uint8_t cell = find_difference();
        is_stale = cell != CELL_NONE;
        if (!is_stale) return;
        if (cell != cursor) {
            send((uint8_t)(SET_ADDRESS | (row_address[cell / COLUMNS] + cell % COLUMNS)), 0);
            cursor = cell;
        } else {
            send_cell(cell);
        }
    }
}

/* Ends the batch on its way if it is over; false while it is not. */
static bool batch_is_over(uint64_t now_us) {
    if (!batch_on_way) return true;
    enum i2c_outcome outcome = i2c_outcome();
    if (outcome == I2C_BUSY && now_us < next_us + BATCH_US) return false;
    if (outcome == I2C_DONE) {
        batch_on_way = false;
        return true;
    }
    if (outcome == I2C_BUSY) i2c_free_bus();
    start_again(now_us + RETRY_US);
    return true;
}

/* All wires low: with E low the controller takes no notice, but the expander has to answer. */
static void send_look(uint64_t now_us) {
    if (now_us < look_us) return;
    i2c_put(0);
}

uint64_t display_poll(uint64_t now_us) {
    if (!batch_is_over(now_us)) return next_us + BATCH_US;
    if (now_us < next_us) return next_us;
    i2c_begin();
    if (step < START_STEPS) send_start_step(now_us);
    else if (is_stale) send_cells();
    else send_look(now_us);
    batch_on_way = i2c_send();
    if (!batch_on_way) return look_us;
    look_us = now_us + LOOK_US;
    if (next_us < now_us) next_us = now_us;
    return next_us + BATCH_US;
}

/* The main loop reads what became of the batch; here it only has to wake up. */
IN_RAM void display_interrupt(void) {
    i2c_acknowledge();
    wake();
}
