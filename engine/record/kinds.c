#include "record/kinds.h"

#include <math.h>
#include <string.h>

#include "base/text.h"

enum need {
    NEEDS_BANK = 1, NEEDS_SITTING = 2, NEEDS_SCRIPT = 4, NEEDS_PART = 8, NEEDS_ITEM = 16, NEEDS_DETAIL = 32,
    NEEDS_TEXT = 64, NEEDS_CONTENT = 128, NEEDS_NUMBER = 256, NEEDS_WHOLE = 512,
    IN_PART = NEEDS_SCRIPT | NEEDS_PART,
    AT_ITEM = IN_PART | NEEDS_ITEM,
    OF_TOPIC = NEEDS_BANK | NEEDS_ITEM | NEEDS_WHOLE
};

struct kind {
    const char *name;
    unsigned needs;
    double low, high;           /* of the number; both 0: any */
    const char *details[3];     /* the only ones allowed; none: any */
};

static const struct kind kinds[] = {
    [EVENT_COURSE_SEEN] = {.name = "course-seen", .needs = NEEDS_BANK | NEEDS_TEXT | NEEDS_CONTENT},
    [EVENT_SITTING_OPENED] = {.name = "sitting-opened", .needs = NEEDS_BANK},
    [EVENT_SITTING_CLOSED] = {.name = "sitting-closed", .needs = NEEDS_SITTING, .details = {"finished", "left"}},
    [EVENT_QUESTION_OPENED] = {.name = "question-opened", .high = 0x1p53 - 1,
        .needs = NEEDS_BANK | NEEDS_SITTING | NEEDS_ITEM | NEEDS_CONTENT | NEEDS_WHOLE},
    [EVENT_STAGE_ENTERED] = {.name = "stage-entered", .needs = IN_PART | NEEDS_DETAIL},
    [EVENT_STAGE_SKIPPED] = {.name = "stage-skipped", .needs = IN_PART | NEEDS_DETAIL},
    [EVENT_TEXT_SAVED] = {.name = "text-saved", .needs = IN_PART | NEEDS_DETAIL | NEEDS_TEXT},
    [EVENT_PREDICTED] = {.name = "predicted", .needs = IN_PART, .high = 1e6},
    [EVENT_ANSWER_FINISHED] = {.name = "answer-finished", .needs = IN_PART, .high = 1e9,
        .details = {"response", "no-response"}},
    [EVENT_POINT_TICKED] = {.name = "point-ticked", .needs = AT_ITEM | NEEDS_DETAIL},
    [EVENT_LIST_JUDGED] = {.name = "list-judged", .needs = AT_ITEM | NEEDS_DETAIL},
    [EVENT_LEVEL_CHOSEN] = {.name = "level-chosen", .needs = AT_ITEM},
    [EVENT_QUALITY_CHOSEN] = {.name = "quality-chosen", .needs = AT_ITEM},
    [EVENT_EVIDENCE_SHOWN] = {.name = "evidence-shown", .needs = AT_ITEM | NEEDS_DETAIL},
    [EVENT_SECOND_LOOK] = {.name = "second-look", .needs = AT_ITEM | NEEDS_DETAIL},
    [EVENT_AWARDED] = {.name = "awarded", .needs = IN_PART},
    [EVENT_CAUSE_GIVEN] = {.name = "cause-given", .needs = AT_ITEM},
    [EVENT_QUESTION_MARKED] = {.name = "question-marked", .needs = NEEDS_SCRIPT},
    [EVENT_QUESTION_LEFT] = {.name = "question-left", .needs = NEEDS_SCRIPT},
    [EVENT_TOPIC_RATED] = {.name = "topic-rated", .needs = OF_TOPIC, .low = 1, .high = 4},
    [EVENT_SETTING] = {.name = "setting", .needs = NEEDS_ITEM},
    [EVENT_MODERATED] = {.name = "moderated", .needs = AT_ITEM | NEEDS_NUMBER, .high = 1e6},
    [EVENT_NOTE_CONDENSED] = {.name = "note-condensed", .needs = OF_TOPIC | NEEDS_TEXT, .low = 1, .high = 4},
    [EVENT_TOPIC_EXPLAINED] = {.name = "topic-explained", .needs = OF_TOPIC, .high = 1e6},
};

enum { KINDS = sizeof kinds / sizeof *kinds, NAME_LIMIT = 4096, TEXT_LIMIT = 16 * 1024 * 1024 };

#define LAST_MOMENT 253402300799    /* the end of the year 9999 */
#define LAST_DAY 2932897            /* the day after it: the student may live east of Greenwich */

const char *event_kind_name(enum event_kind kind)
{
    return (int)kind > 0 && (int)kind < KINDS ? kinds[kind].name : NULL;
}

static bool is_name(const char *text)
{
    if (!text)
        return true;
    size_t length = strlen(text);
    for (size_t i = 0; i < length; i++)
        if ((unsigned char)text[i] < 0x20)
            return false;
    return length <= NAME_LIMIT && text_is_valid(text, length);
}

static bool is_text(const char *text)
{
    return !text || (strlen(text) <= TEXT_LIMIT && text_is_valid(text, strlen(text)));
}

static bool is_hash(const char *text)
{
    return !text || (strlen(text) == 32 && strspn(text, "0123456789abcdef") == 32);
}

static const char *missing(const struct event *event, unsigned needs)
{
    const struct { unsigned need; bool present; const char *fault; } fields[] = {
        {NEEDS_BANK, event->bank != NULL, "the bank is missing"},
        {NEEDS_SITTING, event->sitting > 0, "the sitting is missing"},
        {NEEDS_SCRIPT, event->script > 0, "the script is missing"},
        {NEEDS_PART, event->part != NULL, "the part is missing"},
        {NEEDS_ITEM, event->item != NULL, "the item is missing"},
        {NEEDS_DETAIL, event->detail != NULL, "the detail is missing"},
        {NEEDS_TEXT, event->text != NULL, "the text is missing"},
        {NEEDS_CONTENT, event->content != NULL, "the content is missing"},
        {NEEDS_NUMBER, !isnan(event->number), "the number is missing"},
        {NEEDS_WHOLE, rint(event->number) == event->number, "the number is not whole"},
    };
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++)
        if ((needs & fields[i].need) && !fields[i].present)
            return fields[i].fault;
    return NULL;
}

static const char *number_fault(const struct event *event, const struct kind *kind)
{
    if (isnan(event->number))
        return NULL;
    if (fabs(event->number) >= 1e18)
        return "the number is too large";
    if (kind->high > 0 && (event->number < kind->low || event->number > kind->high))
        return "the number is outside its range";
    return NULL;
}

static const char *detail_fault(const struct event *event, const struct kind *kind)
{
    if (!kind->details[0])
        return NULL;
    for (const char *const *allowed = kind->details; *allowed; allowed++)
        if (text_equal(event->detail, *allowed))
            return NULL;
    return "the detail is not one of those allowed";
}

static const char *mark_fault(const struct mark_row *mark)
{
    if (!mark->part || !mark->item || !mark->topic || !mark->objective)
        return "a mark lacks its part, item, topic or objective";
    if (!is_name(mark->part) || !is_name(mark->item) || !is_name(mark->topic) || !is_name(mark->objective) ||
        !is_name(mark->word) || !is_name(mark->idea) || !is_name(mark->skills))
        return "a name in a mark is not text";
    if (!(mark->maximum > 0 && mark->maximum < 1e6))
        return "a mark has no maximum";
    if (!(mark->got >= 0 && mark->got <= mark->maximum) || mark->first < 0 || mark->first > mark->maximum)
        return "a mark is outside 0 to its maximum";
    return fabs(mark->difficulty) < 1e3 ? NULL : "a difficulty is not a number in range";
}

static const char *marks_fault(const struct event *event)
{
    if (event->mark_count && event->kind != EVENT_QUESTION_MARKED)
        return "marks belong to a marked question only";
    for (size_t i = 0; i < event->mark_count; i++) {
        const char *fault = mark_fault(&event->marks[i]);
        if (fault)
            return fault;
    }
    return NULL;
}

static const char *fields_fault(const struct event *event)
{
    if (!is_name(event->bank) || !is_name(event->part) || !is_name(event->item))
        return "a name is not text";
    if (!is_text(event->detail) || !is_text(event->text))
        return "the text is not valid UTF-8 or too long";
    if (!is_hash(event->content))
        return "the content is not a hash";
    if (event->at < 0 || event->at > LAST_MOMENT || event->day < -1 || event->day > LAST_DAY)
        return "the time is outside the years 1970 to 9999";
    if (event->sitting < 0 || event->script < 0 || (int)event->pass < PASS_NONE || event->pass > PASS_MODERATED)
        return "the sitting, the script or the pass is not one";
    return NULL;
}

const char *event_fault(const struct event *event)
{
    if (!event_kind_name(event->kind))
        return "the kind is unknown";
    const struct kind *kind = &kinds[event->kind];
    const char *fault = missing(event, kind->needs);
    if (!fault)
        fault = fields_fault(event);
    if (!fault)
        fault = number_fault(event, kind);
    if (!fault)
        fault = detail_fault(event, kind);
    return fault ? fault : marks_fault(event);
}
