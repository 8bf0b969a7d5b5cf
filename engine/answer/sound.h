/* How an English word sounds when it is read aloud, roughly: what a misspelling and the right spelling share. The rules are
 * our own, from common knowledge of English spelling; no source. Pure. */
#ifndef OWNMARK_ANSWER_SOUND_H
#define OWNMARK_ANSWER_SOUND_H

#include <stdbool.h>
#include <stddef.h>

enum { SOUND_BYTES = 24 };      /* a longer word is cut off: its end is then not compared */

struct sound {
    char text[SOUND_BYTES];     /* consonants as small letters and digits (1 sh, 2 ch, 3 th); vowels as a e i o u, long
                                   and other ones as capitals: A in rain, E in feed, I in light, O in boat, U in moon, W in
                                   cloud, R in born, X in first, Y in far */
};

/* The word in lower case. Doubled letters count once; silent letters (kn, wr, mb, bt, gh, a final e, an r that is not
 * before a vowel) do not count; ph is f, a soft c is s, tion and shun are one. */
struct sound sound_of(const char *folded);

/* Do both have the same consonants at the same places among their vowels? *vowels: how many of the vowels differ. */
bool sound_same_frame(const struct sound *one, const struct sound *other, size_t *vowels);

size_t sound_consonants(const struct sound *sound);

#endif
