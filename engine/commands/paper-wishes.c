/* The options of 'ownmark paper' that say what is wanted. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/random.h"
#include "base/text.h"
#include "commands/paper.h"

enum { SEED_MOST = 999999, LIST_MOST = 64 };

static const char *const demands[] = {"low", "standard", "high"};

/* The things between commas in every occurrence of an option, trimmed. */
static size_t list_of(const struct arguments *arguments, const char *option, struct arena *arena, const char **things)
{
    size_t count = 0;
    for (size_t i = 0; i < arguments->given_count; i++) {
        if (strcmp(arguments->given[i]->name, option) != 0)
            continue;
        char *rest = arena_copy_text(arena, arguments->values[i]), *next = rest;
        while (next && count < LIST_MOST) {
            char *comma = strchr(next, ',');
            if (comma)
                *comma = '\0';
            things[count++] = text_trim(next);
            next = comma ? comma + 1 : NULL;
        }
    }
    return count;
}

static void read_topics(const struct arguments *arguments, struct arena *arena, struct paper_wishes *wishes)
{
    const char **topics = arena_get_array(arena, LIST_MOST, sizeof *topics);
    wishes->topics = topics;
    wishes->topic_count = list_of(arguments, "--topic", arena, topics);
}

/* ---- Demands: names, or names with their shares --------------------------------------------------------------- */

static bool read_share(const char *text, double *share)
{
    char *end;
    double value = strtod(text, &end);
    *share = value;
    return end != text && (!*end || strcmp(end, "%") == 0) && isfinite(value) && value >= 0 && value <= 100;
}

static bool read_demand(char *thing, struct paper_wishes *wishes, size_t *shares, struct messages *messages)
{
    char *equals = strchr(thing, '=');
    int demand = 0;
    double share = 0;
    if (equals)
        *equals = '\0';
    while (demand < 3 && !text_equal_ignoring_case(thing, demands[demand]))
        demand++;
    if (demand == 3) {
        messages_error(messages, "--demand '%s' is none of low, standard and high; write for example --demand standard,high, "
                       "or --demand low=30,standard=50,high=20", thing);
        return false;
    }
    if (equals && !read_share(equals + 1, &share)) {
        messages_error(messages, "--demand %s='%s' is no share from 0 to 100", thing, equals + 1);
        return false;
    }
    wishes->only_demands[demand] = !equals || share > 0;
    wishes->demand_shares[demand] = share;
    *shares += equals != NULL;
    return true;
}

static bool read_demands(const struct arguments *arguments, struct arena *arena, struct paper_wishes *wishes,
                         struct messages *messages)
{
    const char *things[LIST_MOST];
    size_t count = list_of(arguments, "--demand", arena, things), shares = 0;
    for (size_t i = 0; i < count; i++)
        if (!read_demand(arena_copy_text(arena, things[i]), wishes, &shares, messages))
            return false;
    double sum = wishes->demand_shares[0] + wishes->demand_shares[1] + wishes->demand_shares[2];
    wishes->has_demand_shares = shares > 0;
    if (shares && (shares != count || fabs(sum - 100) > 0.01)) {
        messages_error(messages, "the shares of --demand add up to %g, and 100 are wanted: write for example --demand "
                       "low=30,standard=50,high=20, or names without shares", sum);
        return false;
    }
    return true;
}

/* ---- Papers to avoid -------------------------------------------------------------------------------------------- */

static bool read_avoided(const struct arguments *arguments, struct arena *arena, struct paper_wishes *wishes,
                         struct messages *messages)
{
    const char *paths[COMMAND_OPTIONS];
    size_t count = 0;
    for (size_t i = 0; i < arguments->given_count; i++)
        if (strcmp(arguments->given[i]->name, "--avoid") == 0)
            paths[count++] = arguments->values[i];
    struct paper *papers = arena_get_array(arena, count + 1, sizeof *papers);
    wishes->avoid = papers;
    wishes->avoid_count = count;
    for (size_t i = 0; i < count; i++)
        if (!paper_file_read(paths[i], arena, &papers[i], messages))
            return false;
    return true;
}

bool paper_read_wishes(const struct arguments *arguments, struct arena *arena, struct paper_wishes *wishes,
                       struct messages *messages)
{
    long marks = 0, minutes = 0, seed = (long)(random_fresh_seed() % (SEED_MOST + 1));
    *wishes = (struct paper_wishes){.marks = 0};
    if (!argument_given(arguments, "--marks")) {
        messages_error(messages, "say how many marks the paper has, for example 'ownmark paper my-bank.xml --marks 60'");
        return false;
    }
    if (!argument_whole(arguments, "--marks", 1, PAPER_MARKS_LIMIT, &marks) ||
        !argument_whole(arguments, "--minutes", 1, PAPER_MINUTES_LIMIT, &minutes) ||
        !argument_whole(arguments, "--seed", 0, SEED_MOST, &seed))
        return false;
    wishes->marks = (int)marks;
    wishes->minutes = (int)minutes;
    wishes->seed = (uint64_t)seed;
    read_topics(arguments, arena, wishes);
    return read_demands(arguments, arena, wishes, messages) && read_avoided(arguments, arena, wishes, messages);
}
