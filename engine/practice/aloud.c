#include "practice/aloud-inner.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"
#include "practice/allowance.h"

enum { STUMBLES_MOST = 999 };

/* ---- Noting --------------------------------------------------------------------------------------------- */

static bool note(struct aloud *aloud, struct messages *messages)
{
    struct event event = event_blank(EVENT_TOPIC_EXPLAINED);
    char seconds[32];
    snprintf(seconds, sizeof seconds, "%.0f", aloud->seconds);
    event.bank = bank_id(aloud->bank);
    event.item = aloud->topic->id;
    event.number = aloud->stumbles;
    event.detail = aloud->ticks;
    event.text = seconds;
    event.content = aloud->content;
    return record_append(aloud->record, &event, 1, messages);
}

static bool keep_points(struct aloud *aloud, struct messages *messages)
{
    struct buffer text = BUFFER_EMPTY;
    for (size_t i = 0; i < aloud->count; i++) {
        if (i)
            buffer_add_character(&text, '\n');
        text_add_folded_space(&text, aloud->points[i]);
    }
    bool kept = record_keep_content(aloud->record, buffer_text(&text), aloud->content, messages);
    buffer_free(&text);
    return kept;
}

/* ---- Steps ---------------------------------------------------------------------------------------------- */

static enum practice_result start_speaking(struct aloud *aloud)
{
    aloud->place = ALOUD_SPEAKING;
    aloud->began = clock_elapsed();
    return PRACTICE_ON;
}

static int letters_in(const char *line)
{
    int count = 0;
    for (; *line; line++)
        count += ((unsigned char)*line & 0xc0) != 0x80 && *line != ' ';
    return count < STUMBLES_MOST ? count : STUMBLES_MOST;
}

static enum practice_result stop_speaking(struct aloud *aloud, const char *line, struct messages *messages)
{
    aloud->seconds = clock_elapsed() - aloud->began;
    aloud->stumbles = letters_in(line);
    if (!note(aloud, messages))
        return PRACTICE_FAILED;
    aloud_show_time(aloud);
    aloud->place = ALOUD_STUMBLES;
    return PRACTICE_ON;
}

static enum practice_result enter_stumbles(struct aloud *aloud, const char *line, struct messages *messages)
{
    char *end;
    long count = *line ? strtol(line, &end, 10) : aloud->stumbles;
    if (*line && (end == line || *end || count < 0 || count > STUMBLES_MOST)) {
        page_paragraph(aloud->page, "Type a number, for example 2; Enter alone means %d.", aloud->stumbles);
        return PRACTICE_ON;
    }
    aloud->stumbles = (int)count;
    if (!note(aloud, messages))
        return PRACTICE_FAILED;
    aloud->place = ALOUD_POINT;
    page_paragraph(aloud->page, "Now the key points, one by one. Tick what you said, not what you know.");
    aloud_show_point(aloud);
    return PRACTICE_ON;
}

static enum practice_result go_back(struct aloud *aloud, size_t point, struct messages *messages)
{
    if (point == 0) {
        page_paragraph(aloud->page, "This is the first one.");
        return PRACTICE_ON;
    }
    aloud->ticks[point - 1] = '-';
    if (!note(aloud, messages))
        return PRACTICE_FAILED;
    aloud_show_point(aloud);
    return PRACTICE_ON;
}

static enum practice_result enter_point(struct aloud *aloud, const char *line, struct messages *messages)
{
    static const char *const words[][2] = {{"y", "yes"}, {"h", "half"}, {"n", "no"}, {"b", "back"}};
    size_t point = aloud_next_point(aloud);
    char tick = '\0';
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (text_equal_ignoring_case(line, words[i][0]) || text_equal_ignoring_case(line, words[i][1]))
            tick = words[i][0][0];
    if (tick == 'b')
        return go_back(aloud, point, messages);
    if (!tick) {
        page_paragraph(aloud->page, "Type y for yes, h for half, n for no, or b to go back to the one before.");
        return PRACTICE_ON;
    }
    aloud->ticks[point] = tick;
    if (!note(aloud, messages))
        return PRACTICE_FAILED;
    if (!explain_is_decided(aloud->ticks)) {
        aloud_show_point(aloud);
        return PRACTICE_ON;
    }
    aloud->place = ALOUD_RATING;
    return aloud_show_result(aloud, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

static enum practice_result enter_rating(struct aloud *aloud, const char *line, struct messages *messages)
{
    enum topic_rating rating = *line ? topic_rating_read(line) : explain_rating(aloud->ticks, aloud->stumbles);
    struct event event = event_blank(EVENT_TOPIC_RATED);
    if (rating == TOPIC_NOT_RATED) {
        page_paragraph(aloud->page, "Type a number from 1 to 4, or the word; Enter alone takes what the checklist says.");
        return PRACTICE_ON;
    }
    event.bank = bank_id(aloud->bank);
    event.item = aloud->topic->id;
    event.number = rating;
    if (!record_append(aloud->record, &event, 1, messages))
        return PRACTICE_FAILED;
    page_paragraph(aloud->page, "Kept: %s. 'ownmark explain %s --show' shows how it went each time.", topic_rating_name(rating),
                   aloud->topic->id);
    aloud->place = ALOUD_END;
    return PRACTICE_ON;
}

/* ---- Help ----------------------------------------------------------------------------------------------- */

static void help(struct aloud *aloud)
{
    static const char *const texts[] = {
        [ALOUD_READY] = "Enter starts the clock. Explaining aloud shows at once where you only think you know.",
        [ALOUD_SPEAKING] = ("Speak. A letter typed counts a stumble; Enter ends. Nothing happens when the time is up. .clock hides or "
                            "shows the clock."),
        [ALOUD_STUMBLES] = "How often you got stuck, searched for a word, or had to start again. Enter alone takes the number shown.",
        [ALOUD_POINT] = "y: you said it, in these or other words. h: half of it. n: you did not. b: back to the one before.",
        [ALOUD_RATING] = "The number of the step that fits. The program sets it beside your marks; nobody else sees it.",
        [ALOUD_END] = "",
    };
    page_paragraph(aloud->page, "%s .leave stops here.", texts[aloud->place]);
}

/* ---- The doors ------------------------------------------------------------------------------------------ */

static void go_on(struct aloud *aloud, const struct explained *begun)
{
    memcpy(aloud->ticks, begun->ticks, aloud->count);
    aloud->stumbles = begun->stumbles;
    aloud->seconds = isnan(begun->seconds) ? 0 : begun->seconds;
    aloud->place = aloud_next_point(aloud) == 0 ? ALOUD_STUMBLES : ALOUD_POINT;
    page_heading(aloud->page, 1, "%s: explain it aloud", aloud->topic->name);
    page_paragraph(aloud->page, "Going on with the checklist.");
    if (aloud->place == ALOUD_POINT)
        aloud_show_point(aloud);
}

struct aloud *aloud_begin(const struct bank *bank, struct record *record, int topic, const struct explained *begun,
                          struct messages *messages)
{
    struct aloud *aloud = memory_get_zeroed(1, sizeof *aloud);
    const struct explain_prompt *explain = &bank_course(bank)->topics[topic].explain;
    aloud->bank = bank;
    aloud->record = record;
    aloud->topic = &bank_course(bank)->topics[topic];
    aloud->points = begun ? begun->points : explain->points;
    aloud->count = begun ? strlen(begun->ticks) : explain->point_count;
    assert(aloud->count > 0);
    aloud->arena = arena_new();
    aloud->ticks = arena_get(aloud->arena, aloud->count + 1);
    memset(aloud->ticks, '-', aloud->count);
    aloud->allowed = explain_seconds(aloud->count, allowance_of(record, bank_id(bank), aloud->arena));
    aloud->page = page_new();
    if (!keep_points(aloud, messages)) {
        aloud_free(aloud);
        return NULL;
    }
    if (begun)
        go_on(aloud, begun);
    else
        aloud_introduce(aloud);
    return aloud;
}

void aloud_free(struct aloud *aloud)
{
    if (!aloud)
        return;
    page_free(aloud->page);
    buffer_free(&aloud->prompt);
    arena_free(aloud->arena);
    free(aloud);
}

static void start_writing(struct aloud *aloud)
{
    if (aloud->page_shown)
        page_clear(aloud->page);
    aloud->page_shown = false;
}

const struct page *aloud_screen(struct aloud *aloud)
{
    start_writing(aloud);
    aloud->page_shown = true;
    return aloud->page;
}

static void write_prompt(struct aloud *aloud)
{
    enum topic_rating rating = explain_rating(aloud->ticks, aloud->stumbles);
    buffer_clear(&aloud->prompt);
    switch (aloud->place) {
    case ALOUD_READY: buffer_add(&aloud->prompt, "Enter starts the clock"); break;
    case ALOUD_SPEAKING: buffer_add(&aloud->prompt, "speak"); break;
    case ALOUD_STUMBLES: buffer_print(&aloud->prompt, "stumbles (Enter: %d)", aloud->stumbles); break;
    case ALOUD_POINT: buffer_add(&aloud->prompt, "covered? y h n b"); break;
    case ALOUD_RATING: buffer_print(&aloud->prompt, "how sure, 1 to 4 (Enter: %d %s)", (int)rating, topic_rating_name(rating)); break;
    case ALOUD_END: break;
    }
}

const struct practice_ask *aloud_ask(struct aloud *aloud)
{
    if (aloud->place == ALOUD_END)
        return NULL;
    write_prompt(aloud);
    aloud->ask = (struct practice_ask){.prompt = buffer_text(&aloud->prompt)};
    if (aloud->place == ALOUD_SPEAKING) {
        aloud->ask.clock = !aloud->clock_hidden;
        aloud->ask.used = clock_elapsed() - aloud->began;
        aloud->ask.allowed = aloud->allowed;
        if (aloud->ask.used < aloud->allowed)
            aloud->ask.notice = "Time is up. Finish your sentence, then press Enter.";
    }
    return &aloud->ask;
}

static enum practice_result dispatch(struct aloud *aloud, const char *line, struct messages *messages)
{
    switch (aloud->place) {
    case ALOUD_READY: return start_speaking(aloud);
    case ALOUD_SPEAKING: return stop_speaking(aloud, line, messages);
    case ALOUD_STUMBLES: return enter_stumbles(aloud, line, messages);
    case ALOUD_POINT: return enter_point(aloud, line, messages);
    case ALOUD_RATING: return enter_rating(aloud, line, messages);
    case ALOUD_END: break;
    }
    return PRACTICE_ON;
}

enum practice_result aloud_enter(struct aloud *aloud, const char *line, struct messages *messages)
{
    enum practice_result result = PRACTICE_ON;
    char *copy = memory_copy_text(line);
    const char *word = text_trim(copy);
    assert(aloud->place != ALOUD_END);
    start_writing(aloud);
    if (strcmp(word, "?") == 0)
        help(aloud);
    else if (strcmp(word, ".leave") == 0)
        aloud_leave(aloud);
    else if (strcmp(word, ".clock") == 0 && aloud->place == ALOUD_SPEAKING)
        aloud->clock_hidden = !aloud->clock_hidden;
    else
        result = dispatch(aloud, word, messages);
    free(copy);
    return result;
}

void aloud_leave(struct aloud *aloud)
{
    start_writing(aloud);
    if (aloud->place == ALOUD_STUMBLES || aloud->place == ALOUD_POINT)
        page_paragraph(aloud->page, "Left. 'ownmark explain %s' goes on with the checklist.", aloud->topic->id);
    else if (aloud->place == ALOUD_RATING)
        page_paragraph(aloud->page, "The explanation is kept, without a rating.");
    else
        page_paragraph(aloud->page, "Left; nothing was kept.");
    aloud->place = ALOUD_END;
}
