#include "usb_control.h"

#include "chip/memory.h"
#include "chip/usb.h"
#include "usb_descriptors.h"

/* USB 2.0, tables 9-2 to 9-6; PSTN subclass 1.2, table 13. The low byte is bmRequestType, the high one bRequest. */
enum {
    IS_IN = 0x80,
    DEVICE_GET_STATUS = 0x0080,
    DEVICE_SET_ADDRESS = 0x0500,
    DEVICE_GET_DESCRIPTOR = 0x0680,
    DEVICE_GET_CONFIGURATION = 0x0880,
    DEVICE_SET_CONFIGURATION = 0x0900,
    INTERFACE_GET_STATUS = 0x0081,
    INTERFACE_GET_INTERFACE = 0x0a81,
    ENDPOINT_GET_STATUS = 0x0082,
    ENDPOINT_CLEAR_FEATURE = 0x0102,
    ENDPOINT_SET_FEATURE = 0x0302,
    PORT_SET_LINE_CODING = 0x2021,
    PORT_GET_LINE_CODING = 0x21a1,
    PORT_SET_CONTROL_LINE_STATE = 0x2221,
    PORT_SEND_BREAK = 0x2321,
    FEATURE_HALT = 0,
    LINE_STATE_READY = 1, /* "DTR": a program has the port open */
    MOST_ADDRESSES = 127,
    LINE_CODING_BYTES = 7,
};

struct request {
    uint32_t what, value, index, length;
};

enum stage { STAGE_NONE, STAGE_ANSWER, STAGE_TAKE, STAGE_STATUS };

static struct {
    enum stage stage;
    struct usb_text answer;
    bool ends_with_empty; /* what ends in a full packet, and is less than was asked for */
    uint8_t short_answer[2];
    uint32_t new_address;
} transfer;

static volatile uint32_t configuration;
static volatile bool is_suspended, is_ready, was_ready;
static volatile uint32_t last_frame; /* before the bus fell asleep */

/* Means nothing here, but is given back as it was set: 115200 baud, 8 bits, to begin with. */
static uint8_t line_coding[LINE_CODING_BYTES] = {0x00, 0xc2, 0x01, 0x00, 0, 0, 8};

IN_RAM bool usb_is_configured(void) { return configuration != 0; }
/* Where frames go on, whatever the controller said of sleeping is over. */
IN_RAM bool usb_is_suspended(void) { return is_suspended && usb_frame() == last_frame; }
IN_RAM bool usb_port_is_closed(void) { return was_ready && !is_ready; }

IN_RAM void usb_control_forget(void) {
    transfer.stage = STAGE_NONE;
    transfer.new_address = 0;
    configuration = 0;
    is_suspended = false;
    is_ready = false;
    was_ready = false;
}

IN_RAM static void give_next(void) {
    uint32_t length = transfer.answer.length < USB_PACKET_BYTES ? transfer.answer.length : USB_PACKET_BYTES;
    usb_give(USB_CONTROL_IN, transfer.answer.bytes, length);
    transfer.answer.bytes += length;
    transfer.answer.length -= length;
    if (length < USB_PACKET_BYTES) transfer.ends_with_empty = false;
}

/* The laptop may end the transfer before it has taken everything, so its status is awaited at once. */
IN_RAM static bool answer(struct usb_text text, const struct request *request) {
    if (text.bytes == 0) return false;
    bool is_less = text.length < request->length;
    if (!is_less) text.length = request->length;
    transfer.answer = text;
    transfer.ends_with_empty = is_less && text.length % USB_PACKET_BYTES == 0;
    transfer.stage = STAGE_ANSWER;
    usb_await(USB_CONTROL_OUT);
    give_next();
    return true;
}

IN_RAM static bool answer_short(uint32_t word, uint32_t length, const struct request *request) {
    transfer.short_answer[0] = (uint8_t)word;
    transfer.short_answer[1] = (uint8_t)(word >> 8);
    return answer((struct usb_text){transfer.short_answer, length}, request);
}

IN_RAM static bool accept(void) {
    transfer.stage = STAGE_STATUS;
    usb_give(USB_CONTROL_IN, 0, 0);
    return true;
}

IN_RAM static enum usb_pipe pipe_at(uint32_t address) {
    if (address == USB_ENDPOINT_DATA) return USB_DATA_OUT;
    if (address == (USB_ENDPOINT_DATA | IS_IN)) return USB_DATA_IN;
    if (address == (USB_ENDPOINT_NOTICE | IS_IN)) return USB_NOTICE_IN;
    return USB_PIPES;
}

IN_RAM static bool answer_endpoint(const struct request *request) {
    if ((request->index & ~(uint32_t)IS_IN) == 0) return answer_short(0, 2, request);
    enum usb_pipe pipe = pipe_at(request->index);
    if (pipe == USB_PIPES || !usb_is_configured()) return false;
    return answer_short(usb_is_halted(pipe), 2, request);
}

IN_RAM static bool change_halt(const struct request *request, bool halts) {
    enum usb_pipe pipe = pipe_at(request->index);
    if (pipe == USB_PIPES || request->value != FEATURE_HALT || !usb_is_configured()) return false;
    usb_halt(pipe, halts);
    return accept();
}

IN_RAM static bool set_configuration(const struct request *request, uint32_t *changes) {
    if (request->value > 1) return false;
    configuration = request->value;
    is_ready = false;
    was_ready = false;
    usb_open_pipes(configuration != 0);
    *changes |= USB_PIPES_BEGIN_ANEW;
    return accept();
}

IN_RAM static bool set_line_state(const struct request *request, uint32_t *changes) {
    bool opens = request->value & LINE_STATE_READY;
    if (opens != is_ready) *changes |= opens ? USB_PORT_OPENED : USB_PORT_CLOSED;
    is_ready = opens;
    was_ready = was_ready || opens;
    return accept();
}

IN_RAM static bool give_answer(const struct request *request) {
    if (request->what == DEVICE_GET_DESCRIPTOR)
        return answer(usb_descriptor(request->value >> 8, request->value & 0xff), request);
    if (request->what == DEVICE_GET_CONFIGURATION) return answer_short(configuration, 1, request);
    if (request->what == DEVICE_GET_STATUS) return answer_short(1, 2, request); /* has its own supply */
    if (request->what == ENDPOINT_GET_STATUS) return answer_endpoint(request);
    if (!usb_is_configured() || request->index >= USB_INTERFACES) return false;
    if (request->what == INTERFACE_GET_STATUS) return answer_short(0, 2, request);
    if (request->what == INTERFACE_GET_INTERFACE) return answer_short(0, 1, request);
    if (request->what != PORT_GET_LINE_CODING || request->index != 0) return false;
    return answer((struct usb_text){line_coding, LINE_CODING_BYTES}, request);
}

IN_RAM static bool set_address(const struct request *request) {
    if (request->value > MOST_ADDRESSES) return false;
    transfer.new_address = request->value;
    return accept();
}

IN_RAM static bool take_line_coding(const struct request *request) {
    if (request->length != LINE_CODING_BYTES) return false;
    transfer.stage = STAGE_TAKE;
    usb_await(USB_CONTROL_OUT);
    return true;
}

IN_RAM static bool carry_out(const struct request *request, uint32_t *changes) {
    bool is_for_port = usb_is_configured() && request->index == 0;
    if (is_for_port && request->what == PORT_SET_LINE_CODING) return take_line_coding(request);
    if (request->length != 0) return false;
    if (request->what == DEVICE_SET_ADDRESS) return set_address(request);
    if (request->what == DEVICE_SET_CONFIGURATION) return set_configuration(request, changes);
    if (request->what == ENDPOINT_CLEAR_FEATURE) return change_halt(request, false);
    if (request->what == ENDPOINT_SET_FEATURE) return change_halt(request, true);
    if (is_for_port && request->what == PORT_SET_CONTROL_LINE_STATE) return set_line_state(request, changes);
    return is_for_port && request->what == PORT_SEND_BREAK && accept();
}

IN_RAM static void begin_transfer(uint32_t *changes) {
    uint8_t bytes[USB_SETUP_BYTES];
    usb_take_setup(bytes);
    struct request request = {
        .what = bytes[0] | (uint32_t)bytes[1] << 8,
        .value = bytes[2] | (uint32_t)bytes[3] << 8,
        .index = bytes[4] | (uint32_t)bytes[5] << 8,
        .length = bytes[6] | (uint32_t)bytes[7] << 8,
    };
    transfer.stage = STAGE_NONE;
    transfer.new_address = 0;
    bool gives = request.what & IS_IN && request.length > 0;
    if (!(gives ? give_answer(&request) : carry_out(&request, changes))) usb_refuse_control();
}

IN_RAM static void go_on_giving(void) {
    if (transfer.stage == STAGE_ANSWER && (transfer.answer.length > 0 || transfer.ends_with_empty)) give_next();
    if (transfer.stage != STAGE_STATUS) return;
    transfer.stage = STAGE_NONE;
    if (transfer.new_address != 0) usb_set_address(transfer.new_address);
    transfer.new_address = 0;
}

IN_RAM static void take_data(void) {
    uint8_t packet[USB_PACKET_BYTES];
    uint32_t length = usb_received(USB_CONTROL_OUT, packet);
    if (transfer.stage != STAGE_TAKE) {
        transfer.stage = STAGE_NONE;
    } else if (length != LINE_CODING_BYTES) {
        usb_refuse_control();
    } else {
        for (uint32_t at = 0; at < LINE_CODING_BYTES; at++) line_coding[at] = packet[at];
        accept();
    }
}

/* What ended is dealt with before what begins: both may have come since. */
IN_RAM uint32_t usb_control_interrupt(void) {
    uint32_t changes = 0;
    uint32_t news = usb_take_news();
    if (news & USB_NEWS_RESET) {
        usb_control_forget();
        usb_begin_anew();
        changes |= USB_PIPES_BEGIN_ANEW;
    }
    if (news & USB_NEWS_SUSPENDED) {
        last_frame = usb_frame();
        is_suspended = true;
    }
    if (news & USB_NEWS_RESUMED) is_suspended = false;
    if (usb_take_done(USB_CONTROL_IN)) go_on_giving();
    if (usb_take_done(USB_CONTROL_OUT)) take_data();
    if (news & USB_NEWS_SETUP) begin_transfer(&changes);
    return changes;
}

void usb_control_start(void) { usb_descriptors_start(); }
