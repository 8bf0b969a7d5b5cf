#include "practice/totals.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "practice/mark.h"
#include "practice/show.h"

static void add_row(struct total_row **rows, size_t *count, const char *name, double got, double maximum,
                    struct arena *arena)
{
    for (size_t i = 0; i < *count; i++) {
        if (strcmp((*rows)[i].name, name) != 0)
            continue;
        (*rows)[i].got += got;
        (*rows)[i].maximum += maximum;
        return;
    }
    *rows = memory_resize_array(*rows, *count + 1, sizeof **rows);
    (*rows)[(*count)++] = (struct total_row){.name = arena_copy_text(arena, name), .got = got, .maximum = maximum};
}

static void add_words(struct script *script, const struct part_facts *facts, const char *item, struct buffer *words)
{
    size_t part = (size_t)(facts - script->parts);
    const struct award *award = mark_award(script, part, PASS_FINAL, script->arena);
    for (size_t slot = 0; slot < mark_slot_count(award); slot++)
        if (strcmp(mark_slot_id(award, slot, script->arena), item) == 0) {
            mark_slot_words(script, award, slot, words);
            show_add_asked(words, mark_slot(award, slot)->node, facts->part, &script->values);
        }
}

static void add_missed(struct totals *totals, struct script *script, const struct mark_row *mark,
                       const struct part_facts *facts, struct arena *arena)
{
    const struct choice *cause = facts_choice(facts, EVENT_CAUSE_GIVEN, mark->item, PASS_FIRST);
    struct buffer words = BUFFER_EMPTY;
    add_words(script, facts, mark->item, &words);
    totals->missed = memory_grow(totals->missed, &totals->missed_capacity, totals->missed_count,
                                 sizeof *totals->missed);
    totals->missed[totals->missed_count++] = (struct missed_line){
        .number = script->number,
        .question = arena_copy_text(arena, script->question->id),
        .part = script->question->part_count > 1 ? arena_copy_text(arena, mark->part) : NULL,
        .text = arena_copy_text(arena, buffer_text(&words)),
        .cause = cause ? arena_copy_text(arena, cause->detail) : NULL,
        .lost = mark->maximum - mark->got,
    };
    buffer_free(&words);
}

static void add_part_times(struct totals *totals, const struct part_facts *facts, double seconds_a_mark)
{
    totals->seconds += facts->seconds;
    totals->allowed += facts->part->marks * seconds_a_mark;
    totals->no_response += facts->no_response;
    if (isnan(facts->predicted) || isnan(facts->awarded))
        return;
    totals->predicted += facts->predicted;
    totals->predicted_got += facts->awarded;
    totals->predicted_maximum += facts->part->marks;
}

void totals_add_script(struct totals *totals, struct script *script, const struct mark_row *marks, size_t count,
                       double seconds_a_mark, struct arena *arena)
{
    totals->marked++;
    for (size_t i = 0; i < script->question->part_count; i++)
        add_part_times(totals, &script->parts[i], seconds_a_mark);
    for (size_t i = 0; i < count; i++) {
        const struct mark_row *mark = &marks[i];
        totals->got += mark->got;
        totals->maximum += mark->maximum;
        add_row(&totals->objectives, &totals->objective_count, mark->objective, mark->got, mark->maximum, arena);
        add_row(&totals->words, &totals->word_count, mark->word, mark->got, mark->maximum, arena);
        add_row(&totals->topics, &totals->topic_count, mark->topic, mark->got, mark->maximum, arena);
        const struct part_facts *facts = script_part(script, mark->part);
        if (facts && mark->got < mark->maximum)
            add_missed(totals, script, mark, facts, arena);
    }
}

void totals_free(struct totals *totals)
{
    free(totals->objectives);
    free(totals->words);
    free(totals->topics);
    free(totals->missed);
    *totals = (struct totals){0};
}
