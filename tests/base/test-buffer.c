#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/random.h"
#include "trial.h"

Test(base, buffer_when_empty_reads_as_empty_text)
{
    struct buffer buffer = BUFFER_EMPTY;
    check_text(buffer_text(&buffer), "");
    buffer_clear(&buffer);
    buffer_shorten(&buffer, 0);
    char *taken = buffer_take(&buffer);
    check_text(taken, "");
    free(taken);
    buffer_free(&buffer);
    cr_assert(buffer.text == NULL && buffer.length == 0 && buffer.capacity == 0);
}

Test(base, buffer_appends)
{
    struct buffer buffer = BUFFER_EMPTY;
    buffer_add(&buffer, "tide");
    buffer_add_character(&buffer, ' ');
    buffer_add_bytes(&buffer, "range and", 5);
    buffer_add_repeated(&buffer, "=-", 3);
    buffer_add_repeated(&buffer, "never", 0);
    buffer_add_repeated(&buffer, "", 1000);
    buffer_print(&buffer, "%d%s", 42, "m");
    check_text(buffer_text(&buffer), "tide range=-=-=-42m");
    cr_assert(buffer.length == strlen(buffer.text));
    buffer_shorten(&buffer, 4);
    check_text(buffer_text(&buffer), "tide");
    char *memory = buffer.text;
    buffer_clear(&buffer);
    cr_assert(buffer.text == memory && buffer.length == 0);
    check_text(buffer_text(&buffer), "");
    buffer_free(&buffer);
}

Test(base, buffer_keeps_nul_bytes)
{
    struct buffer buffer = BUFFER_EMPTY;
    buffer_add_bytes(&buffer, "a\0b", 3);
    buffer_add_character(&buffer, '\0');
    cr_assert(buffer.length == 4 && memcmp(buffer.text, "a\0b\0", 5) == 0);
    buffer_free(&buffer);
}

Test(base, buffer_take_hands_over)
{
    struct buffer buffer = BUFFER_EMPTY;
    buffer_add(&buffer, "groyne");
    char *taken = buffer_take(&buffer);
    check_text(taken, "groyne");
    cr_assert(buffer.text == NULL && buffer.length == 0 && buffer.capacity == 0);
    free(taken);
}

Test(base, buffer_prints_longer_than_its_room)
{
    struct buffer buffer = BUFFER_EMPTY;
    buffer_add(&buffer, "=");
    buffer_print(&buffer, "%*d", 100000, 5);
    cr_assert(buffer.length == 100001 && buffer.text[100000] == '5' && buffer.text[100001] == '\0');
    buffer_print(&buffer, "%s", "");
    cr_assert(buffer.length == 100001);
    buffer_free(&buffer);
}

/* Against an array filled the plain way; the length, the room and the final NUL after every step. */
Test(base, buffer_property_against_plain_array)
{
    uint64_t seed = trial_seed(72);
    struct random_source source = {seed};
    struct buffer buffer = BUFFER_EMPTY;
    static char plain[200000];
    size_t length = 0;
    for (int step = 0; step < 2000; step++) {
        char piece[80];
        size_t size = (size_t)random_below(&source, sizeof piece);
        memset(piece, 'a' + step % 26, size);
        if (random_below(&source, 20) == 0) {
            length = (size_t)random_below(&source, length + 1);
            buffer_shorten(&buffer, length);
        }
        buffer_add_bytes(&buffer, piece, size);
        memcpy(plain + length, piece, size);
        length += size;
        cr_assert(buffer.length == length && buffer.capacity > length && buffer.text[length] == '\0',
                  "seed %lu, step %d", seed, step);
    }
    cr_assert(memcmp(buffer.text, plain, length) == 0, "seed %lu", seed);
    buffer_free(&buffer);
}

static void repeat_too_often(void)
{
    struct buffer buffer = BUFFER_EMPTY;
    buffer_add_repeated(&buffer, "four", SIZE_MAX / 2);
}

static void add_more_than_fits(void)
{
    struct buffer buffer = BUFFER_EMPTY;
    volatile size_t length = SIZE_MAX - 8;
    buffer_add(&buffer, "some text that stands already");
    buffer_add_bytes(&buffer, "x", length);
}

Test(base, buffer_lengths_that_overflow_end_the_program)
{
    struct buffer output = BUFFER_EMPTY;
    cr_expect(trial_in_child(repeat_too_often, &output) == 3);
    cr_expect(trial_in_child(add_more_than_fits, &output) == 3);
    buffer_free(&output);
}
