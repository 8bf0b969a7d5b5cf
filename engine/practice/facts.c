#include "practice/facts.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"

static const char *const text_names[PART_TEXTS] = {"word", "givens", "wanted", "plan", "answer", "rewrite"};
static const char *const stage_names[STAGES] = {"read", "plan", "answer", "check"};

const char *part_text_name(enum part_text text)
{
    assert(text < PART_TEXTS);
    return text_names[text];
}

const char *stage_name(enum stage stage)
{
    assert(stage < STAGES);
    return stage_names[stage];
}

static int index_of(const char *const *names, int count, const char *name, size_t length)
{
    for (int i = 0; i < count; i++)
        if (strlen(names[i]) == length && strncmp(names[i], name, length) == 0)
            return i;
    return -1;
}

struct script *script_new(struct arena *arena, const struct course *course, const struct question *question,
                          uint64_t seed, const struct values *values)
{
    struct script *script = memory_get_zeroed(1, sizeof *script);
    script->arena = arena;
    script->course = course;
    script->question = question;
    script->seed = seed;
    script->values = *values;
    script->parts = memory_get_zeroed(question->part_count, sizeof *script->parts);
    for (size_t i = 0; i < question->part_count; i++) {
        script->parts[i].part = &question->parts[i];
        script->parts[i].predicted = (double)NAN;
        script->parts[i].in_time = SIZE_MAX;
        script->parts[i].awarded = (double)NAN;
    }
    return script;
}

void script_free(struct script *script)
{
    if (!script)
        return;
    for (size_t i = 0; i < script->question->part_count; i++) {
        for (int text = 0; text < PART_TEXTS; text++)
            buffer_free(&script->parts[i].texts[text]);
        free(script->parts[i].choices);
    }
    free(script->parts);
    arena_free(script->arena);
    free(script);
}

struct part_facts *script_part(struct script *script, const char *part_id)
{
    for (size_t i = 0; part_id && i < script->question->part_count; i++)
        if (strcmp(script->parts[i].part->id, part_id) == 0)
            return &script->parts[i];
    return NULL;
}

const struct choice *facts_choice(const struct part_facts *facts, enum event_kind kind, const char *item,
                                  enum pass pass)
{
    for (size_t i = 0; i < facts->choice_count; i++) {
        const struct choice *choice = &facts->choices[i];
        if (choice->kind == kind && choice->pass == pass && strcmp(choice->item, item) == 0)
            return choice;
    }
    return NULL;
}

const char *facts_item(struct arena *arena, const char *node_id, const char *what, size_t index)
{
    return arena_print(arena, "%s/%s%zu", node_id, what, index);
}

static void withdraw(struct part_facts *facts, enum event_kind kind, const char *item, enum pass pass)
{
    for (size_t i = 0; i < facts->choice_count; i++) {
        struct choice *choice = &facts->choices[i];
        if (choice->kind != kind || choice->pass != pass || strcmp(choice->item, item) != 0)
            continue;
        memmove(choice, choice + 1, (facts->choice_count - i - 1) * sizeof *choice);
        facts->choice_count--;
        return;
    }
}

static void choose(struct script *script, struct part_facts *facts, const struct event *event)
{
    if (!event->item)
        return;
    withdraw(facts, event->kind, event->item, event->pass);
    if (event->detail && !*event->detail)
        return;
    facts->choices = memory_grow(facts->choices, &facts->choice_capacity, facts->choice_count,
                                 sizeof *facts->choices);
    facts->choices[facts->choice_count++] = (struct choice){
        .kind = event->kind,
        .pass = event->pass,
        .item = arena_copy_text(script->arena, event->item),
        .detail = arena_copy_text(script->arena, event->detail),
        .text = arena_copy_text(script->arena, event->text),
        .number = event->number,
    };
}

void script_call_time(struct script *script)
{
    for (size_t i = 0; i < script->question->part_count; i++)
        script->parts[i].in_time = script->parts[i].texts[TEXT_ANSWER].length;
}

bool facts_is_late(const struct part_facts *facts)
{
    const struct buffer *answer = &facts->texts[TEXT_ANSWER];
    return facts->in_time < answer->length && !text_is_blank(buffer_text(answer) + facts->in_time);
}

/* An answer rewritten after time was called keeps as in time the lines at its start that are as they were. */
static void narrow_in_time(struct part_facts *facts, const char *now)
{
    const char *before = buffer_text(&facts->texts[TEXT_ANSWER]);
    size_t same = 0, whole = 0;
    while (same < facts->in_time && before[same] && before[same] == now[same]) {
        same++;
        if (now[same] == '\n' || now[same] == '\0')
            whole = same;
    }
    facts->in_time = whole;
}

/* Texts are named "answer" (the whole), "answer+" (one more line), "answer=" (finished as it stands). */
static void save_text(struct part_facts *facts, const struct event *event)
{
    size_t length = event->detail ? strlen(event->detail) : 0;
    char suffix = length && strchr("+=", event->detail[length - 1]) ? event->detail[length - 1] : '\0';
    int text = index_of(text_names, PART_TEXTS, event->detail ? event->detail : "", suffix ? length - 1 : length);
    if (text < 0)
        return;
    struct buffer *kept = &facts->texts[text];
    if (suffix == '+' && kept->length)
        buffer_add_character(kept, '\n');
    if (!suffix && text == TEXT_ANSWER && facts->in_time != SIZE_MAX)
        narrow_in_time(facts, event->text ? event->text : "");
    if (!suffix)
        buffer_clear(kept);
    if (event->text && suffix != '=')
        buffer_add(kept, event->text);
    if (suffix == '=')
        facts->settled[text] = true;
    if (text == TEXT_ANSWER && !isnan(event->number))
        facts->seconds = event->number;
}

static void skip_stage(struct part_facts *facts, const struct event *event)
{
    int stage = event->detail ? index_of(stage_names, STAGES, event->detail, strlen(event->detail)) : -1;
    if (stage >= 0)
        facts->skipped[stage] = true;
}

static void finish_answer(struct part_facts *facts, const struct event *event)
{
    facts->settled[TEXT_ANSWER] = true;
    facts->no_response = text_equal(event->detail, "no-response");
    if (!isnan(event->number))
        facts->seconds = event->number;
}

static void apply_to_part(struct script *script, struct part_facts *facts, const struct event *event)
{
    switch (event->kind) {
    case EVENT_STAGE_ENTERED:
        facts->answer_begun = facts->answer_begun || text_equal(event->detail, stage_names[STAGE_ANSWER]);
        break;
    case EVENT_STAGE_SKIPPED:
        skip_stage(facts, event);
        break;
    case EVENT_TEXT_SAVED:
        save_text(facts, event);
        break;
    case EVENT_PREDICTED:
        facts->predicted = event->number;
        facts->predicted_settled = true;
        break;
    case EVENT_ANSWER_FINISHED:
        finish_answer(facts, event);
        break;
    case EVENT_AWARDED:
        if (event->pass == PASS_FINAL)
            facts->awarded = event->number;
        break;
    default:
        choose(script, facts, event);
        break;
    }
}

void script_apply(struct script *script, const struct event *event)
{
    if (event->kind == EVENT_QUESTION_MARKED || event->kind == EVENT_QUESTION_LEFT) {
        script->closed = true;
        script->marked = event->kind == EVENT_QUESTION_MARKED;
        return;
    }
    struct part_facts *facts = script_part(script, event->part);
    if (facts)
        apply_to_part(script, facts, event);
}
