/* Does the program itself see what the model answer is meant to show? */
#include <math.h>

#include "answer/model-answer.h"
#include "authoring/warnings-inner.h"
#include "bank/scheme.h"
#include "base/buffer.h"
#include "base/text.h"

enum { DRAWINGS = 50, SPREAD_MOST = 1000 };

static void tell_unseen(const struct evidence *evidence, struct buffer *out)
{
    size_t told = 0;
    for (size_t i = 0; i < evidence->point_count; i++) {
        const struct point_evidence *point = &evidence->points[i];
        if (model_recognises(point))
            continue;
        buffer_print(out, "%s%s", told++ ? "; " : "", point->point->id);
        if (point->missing)
            buffer_print(out, " (nothing like '%s')", point->missing);
    }
}

void weak_model(const struct weak *weak, size_t index)
{
    struct model_result result = model_answer_earns(weak->course, weak->question, index, weak->values, weak->vocabulary,
                                                    weak->arena);
    if (!result.written) {
        weak_warn(weak, "no model answer: write one that earns every mark, it shows a student how and tests the scheme");
        return;
    }
    for (size_t i = 0; i < result.evidence->need_count; i++)
        if (!result.evidence->needs[i].met)
            weak_warn(weak, "the model answer lacks what its command word asks: %s", result.evidence->needs[i].reason);
    if (result.for_a_person || result.marks == result.maximum)
        return;
    struct buffer unseen = BUFFER_EMPTY;
    tell_unseen(result.evidence, &unseen);
    weak_warn(weak, "the model answer is seen to earn %d of %d; not found in it: %s. Mend its words or the points' key words",
              result.marks, result.maximum, unseen.length ? buffer_text(&unseen) : "nothing, but the scheme's rules withhold it");
    buffer_free(&unseen);
}

/* ---- Variants ------------------------------------------------------------------------------------- */

struct spread {
    const struct number_key *key;
    double least, most;         /* of the size */
    bool below, above;          /* zero */
    bool too_tight;             /* what the ask demands to be rounded to lies outside the tolerance */
};

struct spreads {
    struct spread items[32];
    size_t count;
};

static bool take_number(const struct node *point, void *context)
{
    struct spreads *spreads = context;
    if (point->number && spreads->count < sizeof spreads->items / sizeof *spreads->items)
        spreads->items[spreads->count++] = (struct spread){.key = point->number, .least = (double)INFINITY};
    return true;
}

/* Rounded as the ask demands it. */
static double as_demanded(const struct number_key *key, double value)
{
    int places = key->places;
    if (key->figures > 0 && value != 0)
        places = key->figures - 1 - (int)floor(log10(fabs(value)));
    double scale = pow(10, places);
    return round(value * scale) / scale;
}

/* The tolerance goes before agreement by figures (docs/marking.md, rule 11). */
static bool is_too_tight(const struct number_key *key, double value)
{
    double allowed = key->tolerance_relative ? key->tolerance * fabs(value) : key->tolerance;
    if (!isfinite(value) || key->tolerance <= 0 || key->has_interval || (key->figures <= 0 && key->places < 0))
        return false;
    return fabs(as_demanded(key, value) - value) > allowed * (1 + 1e-9);
}

static void widen(struct spread *spread, double value)
{
    if (!isfinite(value))
        return;
    spread->least = fmin(spread->least, fabs(value));
    spread->most = fmax(spread->most, fabs(value));
    spread->below = spread->below || value < 0;
    spread->above = spread->above || value > 0;
    spread->too_tight = spread->too_tight || is_too_tight(spread->key, value);
}

static void tell_tight(const struct weak *weak, const struct spread *spread)
{
    const struct number_key *key = spread->key;
    const char *name = key->symbol ? key->symbol : "the answer";
    if (key->figures > 0)
        weak_warn(weak, "%s is asked for to %s, which may round it out of its tolerance: widen the tolerance or leave it out", name,
                  text_count(key->figures, "significant figure", "significant figures"));
    else
        weak_warn(weak, "%s is asked for to %s, which may round it out of its tolerance: widen the tolerance or leave it out", name,
                  text_count(key->places, "decimal place", "decimal places"));
}

static void tell_spread(const struct weak *weak, const struct spread *spread)
{
    const char *name = spread->key->symbol ? spread->key->symbol : "an answer";
    if (spread->too_tight)
        tell_tight(weak, spread);
    if (spread->below && spread->above)
        weak_warn(weak, "%s is positive with some drawn numbers and negative with others; is that meant?", name);
    if (spread->most > SPREAD_MOST * spread->least)
        weak_warn(weak, "%s lies anywhere from %.3g to %.3g with the numbers that may be drawn; narrower ranges keep the "
                  "question equally hard", name, spread->least, spread->most);
}

void weak_variants(const struct weak *weak)
{
    struct spreads spreads = {.count = 0};
    struct values values;
    for (size_t i = 0; i < weak->question->part_count; i++)
        scheme_each_point(&weak->question->parts[i].scheme.root, take_number, &spreads);
    for (uint64_t seed = 0; seed < (weak->question->varied ? DRAWINGS : 1); seed++) {
        if (!values_draw(weak->course, weak->question, seed, weak->arena, &values, weak->messages))
            return;
        for (size_t i = 0; i < spreads.count; i++)
            widen(&spreads.items[i], values_expected(&values, spreads.items[i].key));
    }
    for (size_t i = 0; i < spreads.count; i++)
        tell_spread(weak, &spreads.items[i]);
}
