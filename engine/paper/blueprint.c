/* Shares as marks, and what a choice is worth. */
#include "paper/blueprint.h"

#include <assert.h>
#include <math.h>

#include "paper/weights.h"

#define POINTS_OFF 3.0
#define MARKS_OFF 2.0
#define MARKS_OFF_TOPIC 3.0
#define COVERED_FROM 2.0        /* marks */
#define EXACT 1e-9      /* shares are decimal texts: 12.5 % of 40 must be 5 */

static int between(double value, int most)
{
    return value < 0 ? 0 : value > most ? most : (int)value;
}

static double allowed_off(int marks)
{
    return fmax(POINTS_OFF * marks / 100, MARKS_OFF);
}

static void set_span(struct aim *aim, double share, int marks, double off)
{
    double wanted = share * marks / 100;
    aim_set_loose_share(aim, share, marks);
    aim->least = between(ceil(wanted - off - EXACT), aim->low);
    aim->most = between(floor(wanted + off + EXACT), marks);
    if (aim->most < aim->high)
        aim->high = aim->most;
}

void aim_set_share(struct aim *aim, double share, int marks)
{
    set_span(aim, share, marks, allowed_off(marks));
}

void aim_set_topic_share(struct aim *aim, double share, int marks)
{
    set_span(aim, share, marks, fmax(POINTS_OFF * marks / 100, MARKS_OFF_TOPIC));
    if (aim->least == 0 && share * marks / 100 + EXACT >= COVERED_FROM)
        aim->least = 1;
}

void aim_set_least_share(struct aim *aim, double share, int marks)
{
    double wanted = share * marks / 100;
    aim->least = aim->low = between(ceil(wanted - EXACT), marks);
    aim->high = between(fmax(floor(wanted + allowed_off(marks) + EXACT), aim->low), marks);
    aim->most = marks;
}

void aim_set_loose_share(struct aim *aim, double share, int marks)
{
    double wanted = share * marks / 100;
    aim->least = 0;
    aim->low = between(floor(wanted + EXACT), marks);
    aim->high = between(ceil(wanted - EXACT), marks);
    aim->most = marks;
}

/* ---- Judging ------------------------------------------------------------------------------------------------ */

static int outside(int value, int from, int to)
{
    return value < from ? from - value : value > to ? value - to : 0;
}

static void add_up(const struct blueprint *blueprint, const bool *chosen, struct verdict *verdict)
{
    for (size_t i = 0; i < blueprint->item_count; i++) {
        const struct item *item = &blueprint->items[i];
        if (!chosen[i])
            continue;
        verdict->marks += item->marks;
        verdict->seconds += item->seconds;
        verdict->cost += item->cost;
        verdict->uses_kept_out = verdict->uses_kept_out || item->kept_out;
        for (size_t aim = 0; aim < blueprint->aim_count; aim++)
            verdict->given[aim] += item->gives[aim];
    }
    for (size_t i = 0; i < blueprint->enemy_count; i++)
        if (chosen[blueprint->enemies[i].one] && chosen[blueprint->enemies[i].other])
            verdict->enemies_meet = true;
}

void blueprint_judge(const struct blueprint *blueprint, const bool *chosen, struct arena *arena, struct verdict *verdict)
{
    *verdict = (struct verdict){.given = arena_get_array(arena, blueprint->aim_count, sizeof(int))};
    add_up(blueprint, chosen, verdict);
    verdict->missed = (long)WEIGHT_OF_TOTAL * outside(verdict->marks, blueprint->marks, blueprint->marks);
    verdict->missed += (long)WEIGHT_OF_SECOND * outside(verdict->seconds, 0, blueprint->seconds);
    for (size_t i = 0; i < blueprint->aim_count; i++) {
        const struct aim *aim = &blueprint->aims[i];
        assert(0 <= aim->least && aim->least <= aim->low && aim->low <= aim->high && aim->high <= aim->most);
        int missed = outside(verdict->given[i], aim->least, aim->most);
        verdict->missed += (long)WEIGHT_OF_AIM * missed;
        verdict->cost += (long)aim->weight * (outside(verdict->given[i], aim->low, aim->high) - missed);
    }
    verdict->meets_all = !verdict->missed && !verdict->enemies_meet && !verdict->uses_kept_out;
}
