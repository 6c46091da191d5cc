#include <stdarg.h>

#include "chip/fault.h"
#include "wasm-rt.h"

enum {
    TABLE_ELEMENTS = 16,
    SIGNATURE_VALUES = 8, /* parameters and results together, 3 bits each in the low 24 */
    GROWTH_REFUSED = 0xffffffff,
};

uint32_t wasm_rt_call_stack_depth;

uint8_t core_memory[CORE_MEMORY_BYTES] __attribute__((aligned(8), section(".core_memory")));
static wasm_rt_funcref_t core_table[TABLE_ELEMENTS];

bool wasm_rt_is_initialized(void) { return true; }

void wasm_rt_trap(wasm_rt_trap_t trap) {
    fault_stop(trap == WASM_RT_TRAP_EXHAUSTION ? START_CAUSE_STACK_OVERFLOW : START_CAUSE_TRAP, trap);
}

/* A signature is its own number: counts and types packed into it, so equal signatures have equal numbers. */
uint32_t wasm_rt_register_func_type(uint32_t params, uint32_t results, ...) {
    if (params + results > SIGNATURE_VALUES) wasm_rt_trap(WASM_RT_TRAP_CALL_INDIRECT);
    uint32_t number = (params << 28) | (results << 24);
    va_list types;
    va_start(types, results);
    for (uint32_t at = 0; at < params + results; at++) number |= (uint32_t)va_arg(types, int) << (3 * at);
    va_end(types);
    return number + 1; /* 0 marks an empty element */
}

void wasm_rt_allocate_memory(wasm_rt_memory_t *memory, uint32_t initial_pages, uint32_t max_pages) {
    if (initial_pages != 1) wasm_rt_trap(WASM_RT_TRAP_OOB);
    *memory = (wasm_rt_memory_t){core_memory, 1, max_pages, CORE_MEMORY_BYTES};
}

uint32_t wasm_rt_grow_memory(wasm_rt_memory_t *memory, uint32_t pages) {
    return pages == 0 ? memory->pages : GROWTH_REFUSED;
}

void wasm_rt_free_memory(wasm_rt_memory_t *memory) { memory->size = 0; }

void wasm_rt_allocate_funcref_table(wasm_rt_funcref_table_t *table, uint32_t elements, uint32_t max_elements) {
    if (elements > TABLE_ELEMENTS) wasm_rt_trap(WASM_RT_TRAP_CALL_INDIRECT);
    *table = (wasm_rt_funcref_table_t){core_table, max_elements, elements};
}

void wasm_rt_free_funcref_table(wasm_rt_funcref_table_t *table) { table->size = 0; }
