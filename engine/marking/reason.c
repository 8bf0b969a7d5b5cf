/* The words of an award: what a student reads behind each mark. */
#include "marking/inside.h"

#include <assert.h>

static const struct { const char *name; bool given; } reasons[AWARD_REASONS] = {
    [REASON_EARNED] = {"earned", true},
    [REASON_METHOD_SEEN] = {"method-seen", true},
    [REASON_IMPLIED] = {"implied", true},
    [REASON_ANSWER_SHOWS_METHOD] = {"answer-shows-method", true},
    [REASON_FOLLOWED] = {"followed", true},
    [REASON_ON_YOUR_WORD] = {"on-your-word", true},
    [REASON_LEVEL] = {"level", true},
    [REASON_OVERRIDE] = {"best-fit", true},
    [REASON_BAND] = {"band", true},
    [REASON_NOT_SHOWN] = {"not-shown", false},
    [REASON_UNDECIDED] = {"undecided", false},
    [REASON_UNSURE] = {"unsure", false},
    [REASON_REJECTED] = {"rejected", false},
    [REASON_CONTRADICTED] = {"contradicted", false},
    [REASON_CROSSED_OUT] = {"crossed-out", false},
    [REASON_NEEDS] = {"needs", false},
    [REASON_UNSUPPORTED] = {"unsupported", false},
    [REASON_UNIT_MISSING] = {"unit-missing", false},
    [REASON_UNIT_WRONG] = {"unit-wrong", false},
    [REASON_FIGURES] = {"figures", false},
    [REASON_TOO_FEW] = {"too-few", false},
    [REASON_LIST_CANCELLED] = {"list-cancelled", false},
    [REASON_LIST_WRONG] = {"list-wrong", false},
    [REASON_LIST_LATE] = {"list-late", false},
    [REASON_ROUTE_SHORT] = {"route-short", false},
    [REASON_NO_CONTENT] = {"no-content", false},
    [REASON_NO_RESPONSE] = {"no-response", false},
    [REASON_ROUTE_COUNTS] = {"route-counts", false},
};

bool award_reason_is_given(enum award_reason reason)
{
    assert(reason < AWARD_REASONS);
    return reasons[reason].given;
}

const char *award_reason_name(enum award_reason reason)
{
    assert(reason < AWARD_REASONS);
    return reasons[reason].name;
}

static const char *rejected_text(const struct point_case *point, struct arena *arena)
{
    if (!point->input.rejected_words)
        return "not given: the answer has wording that the scheme rejects";
    return arena_print(arena, "not given: the scheme rejects '%s', even beside a right answer",
                       point->input.rejected_words);
}

static const char *needs_text(const struct point_case *point)
{
    return point->node->point_kind == POINT_ACCURACY ? "not given: needs the method mark first"
                                                     : "not given: needs the mark it builds on first";
}

const char *reason_of_point(const struct point_case *point, struct arena *arena)
{
    switch (point->reason) {
    case REASON_EARNED: return "earned";
    case REASON_METHOD_SEEN: return "earned: method seen";
    case REASON_IMPLIED: return "earned: a later mark shows it";
    case REASON_ANSWER_SHOWS_METHOD: return "earned: the right answer shows the method";
    case REASON_FOLLOWED: return "earned: right for your own earlier value";
    case REASON_ON_YOUR_WORD: return "given on your word: the number does not agree with the scheme";
    case REASON_UNDECIDED: return "not decided yet: counts as not earned";
    case REASON_UNSURE: return "not sure counts as not earned until you decide";
    case REASON_REJECTED: return rejected_text(point, arena);
    case REASON_CONTRADICTED: return "not given: the answer says the opposite as well";
    case REASON_CROSSED_OUT: return "not given: it stands only in what was crossed out";
    case REASON_NEEDS: return needs_text(point);
    case REASON_UNSUPPORTED: return "not given: working is asked for and none is shown";
    case REASON_NO_RESPONSE: return "no response";
    default:
        return point->node->number && point->input.value == VALUE_WRONG ? "not given: the value is not the right one"
                                                                        : "not given: not in the answer";
    }
}

const char *reason_of_figures(const struct number_key *key, struct arena *arena)
{
    if (key->figures > 0)
        return arena_print(arena, "1 mark lost: %d significant figure%s asked for", key->figures,
                           key->figures == 1 ? " is" : "s are");
    if (key->places == 0)
        return "1 mark lost: a whole number is asked for";
    return arena_print(arena, "1 mark lost: %d decimal place%s asked for", key->places,
                       key->places == 1 ? " is" : "s are");
}

const char *reason_of_levels(const struct award_levels *levels, struct arena *arena)
{
    if (levels->override != OVERRIDE_NONE && levels->marks < levels->override)
        return arena_print(arena, "your best fit of %d is held down: %s", levels->override,
                           levels->cap >= 0 ? levels->node->caps[levels->cap].condition : "the maximum");
    if (levels->override != OVERRIDE_NONE && !levels->rated)
        return "your best fit";
    if (levels->override != OVERRIDE_NONE)
        return arena_print(arena, "your best fit; the strands alone give %d", levels->proxy);
    if (!levels->rated)
        return "not decided yet: counts as not earned until every strand is rated";
    if (levels->level == 0)
        return "not given: nothing creditworthy in most strands";
    if (levels->cap >= 0)
        return arena_print(arena, "held at level %d: %s", levels->level, levels->node->caps[levels->cap].condition);
    return arena_print(arena, "level %d fits most strands", levels->level);
}
