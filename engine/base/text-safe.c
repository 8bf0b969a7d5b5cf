/* The door from untrusted text to a terminal. */
#include <inttypes.h>
#include <string.h>
#include <unictype.h>
#include <unistr.h>
#include <uniwidth.h>

#include "base/text.h"

enum { MARKS_IN_A_ROW = 8 };

bool text_is_unsafe_character(uint32_t character)
{
    if (character < 0x20)
        return character != '\n' && character != '\t';
    if (character < 0x7f)
        return false;
    return character <= 0x9f                                        /* DEL and C1 */
           || character == 0x061c || character == 0x200e || character == 0x200f
           || (character >= 0x2028 && character <= 0x202e)          /* separators, embeddings, overrides */
           || (character >= 0x2066 && character <= 0x2069)          /* isolates */
           || (character >= 0xe0000 && character <= 0xe007f);       /* tags */
}

static bool is_combining(ucs4_t character)
{
    return character >= 0x300 && uc_is_general_category(character, UC_CATEGORY_M);
}

/* A character that takes no column leaves the marks before and after it on the same cell. */
static bool ends_the_row(ucs4_t character)
{
    return character == '\n' || uc_width(character, "UTF-8") > 0;
}

static void add_character(struct buffer *out, ucs4_t character, const char *bytes, size_t length,
                          unsigned *marks)
{
    if (text_is_unsafe_character(character)) {
        buffer_print(out, "<U+%04" PRIX32 ">", character);
        *marks = 0;
    } else if (character == '\t') {
        buffer_add_character(out, ' ');
        *marks = 0;
    } else if (is_combining(character)) {
        if (++*marks <= MARKS_IN_A_ROW)
            buffer_add_bytes(out, bytes, length);
    } else {
        buffer_add_bytes(out, bytes, length);
        if (ends_the_row(character))
            *marks = 0;
    }
}

void text_add_safe_bytes(struct buffer *out, const char *bytes, size_t length)
{
    unsigned marks = 0;
    while (length > 0) {
        ucs4_t character;
        int taken = u8_mbtoucr(&character, (const uint8_t *)bytes, length);
        if (taken > 0) {
            add_character(out, character, bytes, (size_t)taken, &marks);
        } else {
            buffer_print(out, "<0x%02X>", (unsigned)(unsigned char)*bytes);
            marks = 0;
            taken = 1;
        }
        bytes += taken;
        length -= (size_t)taken;
    }
}

void text_add_safe(struct buffer *out, const char *text)
{
    text_add_safe_bytes(out, text, strlen(text));
}
