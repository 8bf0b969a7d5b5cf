/* Inside aloud: what its two files share. Not for others. */
#ifndef OWNMARK_PRACTICE_ALOUD_INNER_H
#define OWNMARK_PRACTICE_ALOUD_INNER_H

#include "practice/aloud.h"

enum aloud_place { ALOUD_READY, ALOUD_SPEAKING, ALOUD_STUMBLES, ALOUD_POINT, ALOUD_RATING, ALOUD_END };

struct aloud {
    const struct bank *bank;
    struct record *record;
    const struct topic *topic;
    const char *const *points;
    size_t count;
    char *ticks;                /* one a point */
    int stumbles;
    double seconds, allowed;
    double began;               /* clock_elapsed when speaking began */
    char content[33];
    enum aloud_place place;
    bool clock_hidden;
    struct arena *arena;

    struct page *page;
    bool page_shown;
    struct buffer prompt;
    struct practice_ask ask;
};

size_t aloud_next_point(const struct aloud *aloud);     /* the first that is not decided; count when all are */

void aloud_introduce(struct aloud *aloud);
void aloud_show_time(struct aloud *aloud);
void aloud_show_point(struct aloud *aloud);
bool aloud_show_result(struct aloud *aloud, struct messages *messages);     /* false: the record cannot be read */

#endif
