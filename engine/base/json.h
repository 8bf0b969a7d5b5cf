/* Writing JSON (RFC 8259): commas, escapes and numbers in one place. No white space is added.
 *
 * Everything text_add_safe would make visible is written as an escape, so the result may be shown on a
 * terminal; a byte that is not UTF-8 becomes U+FFFD. At most 63 levels; a name where none belongs, one
 * missing, or the wrong close is a bug (assert). */
#ifndef OWNMARK_BASE_JSON_H
#define OWNMARK_BASE_JSON_H

#include <stdbool.h>
#include <stdint.h>
#include "base/buffer.h"

struct json {
    struct buffer *out;
    unsigned depth;
    bool fresh[64];   /* nothing written yet at this depth */
    bool named[64];   /* this depth is an object, whose values have names */
};

void json_begin(struct json *json, struct buffer *out);
void json_object(struct json *json, const char *name);   /* name NULL inside arrays and at the top */
void json_array(struct json *json, const char *name);
void json_close_object(struct json *json);
void json_close_array(struct json *json);
void json_text(struct json *json, const char *name, const char *text);    /* NULL writes null */
void json_whole(struct json *json, const char *name, int64_t value);
void json_number(struct json *json, const char *name, double value);      /* shortest that reads back; not finite: null */
void json_truth(struct json *json, const char *name, bool value);
void json_null(struct json *json, const char *name);

#endif
