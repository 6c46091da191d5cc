/*
 * What the C that wasm2c 1.0.32 writes needs from its home, in Treadle's own terms: one memory of one page that
 * never grows, calls bounded in depth, and traps that end in a reset with the lamp off.
 */
#ifndef WASM_RT_H_
#define WASM_RT_H_

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define UNLIKELY(x) __builtin_expect(!!(x), 0)
#define LIKELY(x) __builtin_expect(!!(x), 1)
#define wasm_rt_unreachable __builtin_unreachable

/*
 * Every load and store of the core comes by here, with `length` a constant of 1, 2, 4 or 8. This processor cannot read
 * a word from an odd place, so a plain memcpy would be a call that copies byte by byte; but nearly all places are even.
 */
static inline __attribute__((always_inline)) void wasm_rt_memcpy(void *into, const void *from, size_t length) {
    typedef uint16_t __attribute__((may_alias)) half;
    typedef uint32_t __attribute__((may_alias)) word;
    uint32_t places = (uint32_t)into | (uint32_t)from;
    if (length == sizeof(half) && places % sizeof(half) == 0) {
        *(half *)into = *(const half *)from;
    } else if (length == sizeof(word) && places % sizeof(word) == 0) {
        *(word *)into = *(const word *)from;
    } else if (length == 2 * sizeof(word) && places % sizeof(word) == 0) {
        ((word *)into)[0] = ((const word *)from)[0];
        ((word *)into)[1] = ((const word *)from)[1];
    } else {
        __builtin_memcpy(into, from, length);
    }
}

/* Addresses are checked in software, and so is the depth of calls. */
#define WASM_RT_MEMCHECK_SIGNAL_HANDLER 0
#define WASM_RT_USE_STACK_DEPTH_COUNT 1
#define WASM_RT_MAX_CALL_STACK_DEPTH 40
extern uint32_t wasm_rt_call_stack_depth;

/* The numbers are the `detail` of a start after a trap. */
typedef enum {
    WASM_RT_TRAP_NONE,
    WASM_RT_TRAP_OOB,
    WASM_RT_TRAP_INT_OVERFLOW,
    WASM_RT_TRAP_DIV_BY_ZERO,
    WASM_RT_TRAP_INVALID_CONVERSION,
    WASM_RT_TRAP_UNREACHABLE,
    WASM_RT_TRAP_CALL_INDIRECT,
    WASM_RT_TRAP_UNCAUGHT_EXCEPTION,
    WASM_RT_TRAP_EXHAUSTION,
} wasm_rt_trap_t;

typedef enum {
    WASM_RT_I32,
    WASM_RT_I64,
    WASM_RT_F32,
    WASM_RT_F64,
    WASM_RT_FUNCREF,
    WASM_RT_EXTERNREF,
} wasm_rt_type_t;

typedef void (*wasm_rt_function_ptr_t)(void);

typedef struct {
    uint32_t func_type;
    wasm_rt_function_ptr_t func;
    void *module_instance;
} wasm_rt_funcref_t;

typedef struct {
    uint8_t *data;
    uint32_t pages, max_pages;
    uint32_t size;
} wasm_rt_memory_t;

/*
 * wasm2c hands the memory to each of its loads and stores, and they look up its place and its size each time. Here is
 * one memory and it never grows: so these macros take that argument away, from the calls and (as the preprocessor reads
 * those too) from the definitions, and the `mem` in their bodies is this constant. Each access is still checked, against
 * a number known to the compiler, which makes the image some 7 KB smaller.
 */
#define CORE_MEMORY_BYTES 65536u
extern uint8_t core_memory[CORE_MEMORY_BYTES];
static const wasm_rt_memory_t only_memory = {core_memory, 1, 1, CORE_MEMORY_BYTES};
static const wasm_rt_memory_t *const mem __attribute__((unused)) = &only_memory;
#define i32_load(memory, address) core_i32_load(address)
#define i64_load(memory, address) core_i64_load(address)
#define f32_load(memory, address) core_f32_load(address)
#define f64_load(memory, address) core_f64_load(address)
#define i32_load8_s(memory, address) core_i32_load8_s(address)
#define i64_load8_s(memory, address) core_i64_load8_s(address)
#define i32_load8_u(memory, address) core_i32_load8_u(address)
#define i64_load8_u(memory, address) core_i64_load8_u(address)
#define i32_load16_s(memory, address) core_i32_load16_s(address)
#define i64_load16_s(memory, address) core_i64_load16_s(address)
#define i32_load16_u(memory, address) core_i32_load16_u(address)
#define i64_load16_u(memory, address) core_i64_load16_u(address)
#define i64_load32_s(memory, address) core_i64_load32_s(address)
#define i64_load32_u(memory, address) core_i64_load32_u(address)
#define i32_store(memory, address, value) core_i32_store(address, value)
#define i64_store(memory, address, value) core_i64_store(address, value)
#define f32_store(memory, address, value) core_f32_store(address, value)
#define f64_store(memory, address, value) core_f64_store(address, value)
#define i32_store8(memory, address, value) core_i32_store8(address, value)
#define i32_store16(memory, address, value) core_i32_store16(address, value)
#define i64_store8(memory, address, value) core_i64_store8(address, value)
#define i64_store16(memory, address, value) core_i64_store16(address, value)
#define i64_store32(memory, address, value) core_i64_store32(address, value)

typedef struct {
    wasm_rt_funcref_t *data;
    uint32_t max_size;
    uint32_t size;
} wasm_rt_funcref_table_t;

/* Named by the code that wasm2c always writes, used by no core. */
typedef void *wasm_rt_externref_t;
typedef struct {
    wasm_rt_externref_t *data;
    uint32_t max_size;
    uint32_t size;
} wasm_rt_externref_table_t;
#define wasm_rt_externref_null_value ((wasm_rt_externref_t)0)

bool wasm_rt_is_initialized(void);
void wasm_rt_trap(wasm_rt_trap_t) __attribute__((noreturn, cold));
uint32_t wasm_rt_register_func_type(uint32_t params, uint32_t results, ...);
void wasm_rt_allocate_memory(wasm_rt_memory_t *, uint32_t initial_pages, uint32_t max_pages);
uint32_t wasm_rt_grow_memory(wasm_rt_memory_t *, uint32_t pages);
void wasm_rt_free_memory(wasm_rt_memory_t *);
void wasm_rt_allocate_funcref_table(wasm_rt_funcref_table_t *, uint32_t elements, uint32_t max_elements);
void wasm_rt_free_funcref_table(wasm_rt_funcref_table_t *);

#endif
