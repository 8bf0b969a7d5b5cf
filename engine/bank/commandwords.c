#include "bank/commandwords.h"

#include <stdlib.h>
#include <string.h>

#include "bank/names.h"
#include "base/buffer.h"
#include "base/text.h"

/* Alphabetical, so that a person finds a word; nothing else depends on the order. */
static const struct built_in_word built_in[] = {
    {"analyse", OBJECTIVE_ANALYSE,
     "Take something apart and show how its parts hang together.",
     "The parts, how each acts on the others, and what follows from that.",
     "Telling what happened, one thing after another, without saying how one leads to the next."},
    {"assess", OBJECTIVE_ANALYSE,
     "Weigh how important or how good something is.",
     "The things that count, each weighed, and which of them counts most and why.",
     "A list of things with none put above another."},
    {"calculate", OBJECTIVE_APPLY,
     "Work out a value from what is given.",
     "The working, and the value with the figures that were asked for.",
     "The unit is left out, or the working is."},
    {"comment", OBJECTIVE_ANALYSE,
     "Give an informed view of something.",
     "A view, and the evidence from the question that it rests on.",
     "Remarks so general that they would fit any question."},
    {"compare", OBJECTIVE_APPLY,
     "Say how things are alike and how they differ.",
     "Both things in the same sentence, with a word that compares: higher, slower, both.",
     "Two separate descriptions with the comparing left to the reader."},
    {"complete", OBJECTIVE_KNOW,
     "Fill the gaps in a sentence, a table or a drawing.",
     "Something in every gap.",
     "One gap is overlooked."},
    {"conclude", OBJECTIVE_ANALYSE,
     "Say what the evidence adds up to.",
     "A conclusion, and the evidence that leads to it.",
     "Claiming more than the evidence shows."},
    {"contrast", OBJECTIVE_APPLY,
     "Say how things differ.",
     "Statements in pairs: what one does and what the other does instead.",
     "Saying something of one side only."},
    {"convert", OBJECTIVE_APPLY,
     "Change a value into another unit or form.",
     "The right factor, used the right way round.",
     "A power of ten is lost, or one is used twice."},
    {"deduce", OBJECTIVE_ANALYSE,
     "Find something out by reasoning from what is given.",
     "What you found, tied to the piece of information it comes from.",
     "The answer stands alone, without the reasoning."},
    {"define", OBJECTIVE_KNOW,
     "Give the exact meaning of a term.",
     "Every essential part of the meaning.",
     "Explaining the term with itself."},
    {"describe", OBJECTIVE_KNOW,
     "Say what happens or what something is like; why is not asked.",
     "The features in order; for a graph, the trend with figures read from it.",
     "Writing reasons, which earn nothing here."},
    {"determine", OBJECTIVE_APPLY,
     "Get a value from data or from a graph.",
     "The readings you took, shown, and the value worked out from them.",
     "The scale is misread."},
    {"discuss", OBJECTIVE_ANALYSE,
     "Write about something from more than one side.",
     "Points on each side, developed and set against each other.",
     "Arguing one side only."},
    {"distinguish", OBJECTIVE_APPLY,
     "Say what tells two things apart.",
     "For each difference, what is true of the one and what of the other.",
     "Saying something of one side only."},
    {"draw", OBJECTIVE_APPLY,
     "Make an accurate drawing or diagram.",
     "Lines drawn with a ruler where they are straight, and the parts in proportion.",
     "A freehand outline where accuracy is asked."},
    {"estimate", OBJECTIVE_APPLY,
     "Work out roughly how large something is.",
     "Rounded values that are easy to handle, shown, and the rough answer.",
     "Working with exact values as if the exact answer were wanted."},
    {"evaluate", OBJECTIVE_ANALYSE,
     "Judge how good, true or useful something is.",
     "What speaks for it, what speaks against it, and a judgement that follows from both.",
     "The judgement is missing."},
    {"explain", OBJECTIVE_APPLY,
     "Say why or how something happens.",
     "Each point with its reason, joined by a word such as because or so.",
     "Describing what happens without saying why."},
    {"give", OBJECTIVE_KNOW,
     "Write down a short answer, or as many as are asked for.",
     "Exactly the number asked for.",
     "Extra answers, of which a wrong one may cost a right one."},
    {"identify", OBJECTIVE_KNOW,
     "Pick something out or name it.",
     "The right name, or the right item from what is given.",
     "Describing it instead of naming it."},
    {"interpret", OBJECTIVE_ANALYSE,
     "Say what data or a source mean.",
     "Figures or words quoted, each followed by what they tell.",
     "Saying the data again in other words."},
    {"justify", OBJECTIVE_ANALYSE,
     "Defend a choice or a statement.",
     "The evidence that supports it, and why it is better than what else could be chosen.",
     "Saying that it is right without evidence."},
    {"label", OBJECTIVE_KNOW,
     "Put names to the parts of a drawing.",
     "Every part named, with a line that ends on it.",
     "A line that ends beside the part, or a part without a name."},
    {"list", OBJECTIVE_KNOW,
     "Write down a number of items without more.",
     "Exactly the number asked for.",
     "Extra items, of which a wrong one may cost a right one."},
    {"name", OBJECTIVE_KNOW,
     "Say what something is called.",
     "The term itself.",
     "Describing it instead of naming it."},
    {"outline", OBJECTIVE_KNOW,
     "Give the main points only.",
     "The main points, briefly, in a sensible order.",
     "So much detail on one point that another is left out."},
    {"plan", OBJECTIVE_APPLY,
     "Work out how an investigation would be done.",
     "What is changed, what is measured, what is kept the same, repeats, and how it is made safe.",
     "Nothing is kept the same."},
    {"plot", OBJECTIVE_APPLY,
     "Mark values as points on axes.",
     "Sensible scales, axes with names and units, points exactly placed, and a line of best fit if asked.",
     "Joining the points one by one instead of drawing the line they suggest."},
    {"predict", OBJECTIVE_APPLY,
     "Say what is to be expected.",
     "The outcome with its direction, and what the expectation rests on.",
     "An outcome with no reason for it."},
    {"prove", OBJECTIVE_APPLY,
     "Show by reasoning that something is always true.",
     "Every step follows from the one before, down to the conclusion.",
     "Trying out a few examples instead."},
    {"show that", OBJECTIVE_APPLY,
     "Reach a result that is given to you.",
     "Every step written out, and the result with at least one figure more than the one given.",
     "Starting from the result as if it were known."},
    {"sketch", OBJECTIVE_APPLY,
     "Draw the general shape.",
     "The shape with its key features marked: where it starts, turns and crosses.",
     "The axes have no names."},
    {"state", OBJECTIVE_KNOW,
     "Write down a short fact.",
     "The exact term; no reason is asked.",
     "Padding, in which the term gets lost."},
    {"suggest", OBJECTIVE_APPLY,
     "Use what you know where the situation is new and no single answer was taught.",
     "A possible answer that fits the situation in the question.",
     "Leaving it blank because it was never taught."},
    {"summarise", OBJECTIVE_APPLY,
     "Give the essence of a text or of data in short.",
     "The main points only, in your own words.",
     "Copying sentences out of the text."},
    {"to what extent", OBJECTIVE_ANALYSE,
     "Judge how far a statement is true.",
     "The case for it, the case against it, and a verdict on how far, with support.",
     "Agreeing with the statement and nothing more."},
};

enum { BUILT_IN_COUNT = sizeof built_in / sizeof *built_in };

const struct built_in_word *command_words_built_in(size_t *count)
{
    *count = BUILT_IN_COUNT;
    return built_in;
}

const char *command_word_folded(struct arena *arena, const char *word)
{
    struct buffer single = BUFFER_EMPTY, folded = BUFFER_EMPTY;
    text_add_folded_space(&single, word);
    text_add_case_folded(&folded, buffer_text(&single));
    char *copy = text_trim(arena_copy_text(arena, buffer_text(&folded)));
    buffer_free(&single);
    buffer_free(&folded);
    return copy;
}

/* The first objective of the kind, else of the nearest one; of two equally near the simpler. */
static int objective_of_kind(const struct objective *objectives, size_t count, enum objective_kind kind)
{
    int best = -1, least = 0;
    for (size_t i = 0; i < count; i++) {
        int steps = (int)objectives[i].kind - (int)kind;
        int distance = steps > 0 ? 2 * steps : -2 * steps - 1;
        if (steps == 0)
            return (int)i;
        if (best < 0 || distance < least) {
            best = (int)i;
            least = distance;
        }
    }
    return best;
}

static const struct built_in_word *built_in_named(const char *word)
{
    for (size_t i = 0; i < BUILT_IN_COUNT; i++)
        if (strcmp(built_in[i].word, word) == 0)
            return &built_in[i];
    return NULL;
}

struct course_words {
    struct arena *arena;
    const struct objective *objectives;
    size_t objective_count;
    struct names objective_names, taken;
    const char *file;
    struct messages *messages;
    struct command_word *words;
    size_t count;
};

static void complain(struct course_words *course, const struct written_word *written, const char *text)
{
    struct place place = {course->file, written->line, written->column};
    messages_add(course->messages, SEVERITY_ERROR, place, "course", "%s", text);
}

/* Names to suggest from; few enough to look through, since a course has few objectives. */
static int unknown_objective(struct course_words *course, const struct written_word *written)
{
    const char **ids = arena_get_array(course->arena, course->objective_count, sizeof *ids);
    for (size_t i = 0; i < course->objective_count; i++)
        ids[i] = course->objectives[i].id;
    const char *nearest = messages_full(course->messages)
        ? NULL : text_nearest(written->objective, ids, course->objective_count);
    complain(course, written, nearest
        ? arena_print(course->arena, "command word '%s' names the objective '%s', which the course does not "
                      "declare; did you mean '%s'?", written->word, written->objective, nearest)
        : arena_print(course->arena, "command word '%s' names the objective '%s', which the course does not "
                      "declare: declare it or name one that is", written->word, written->objective));
    return -1;
}

static int written_objective(struct course_words *course, const struct written_word *written,
                             const struct built_in_word *base)
{
    if (written->objective) {
        const int *index = names_find(&course->objective_names, written->objective);
        return index ? *index : unknown_objective(course, written);
    }
    if (base)
        return objective_of_kind(course->objectives, course->objective_count, base->kind);
    complain(course, written, arena_print(course->arena, "command word '%s' is not in the built-in set and names "
                                          "no objective: add objective=\"…\"", written->word));
    return -1;
}

static const char *written_text(struct course_words *course, const struct written_word *written,
                                const char *text, const char *from_base, const char *element)
{
    if (text)
        return text;
    if (from_base)
        return from_base;
    complain(course, written, arena_print(course->arena, "command word '%s' is not in the built-in set and has no "
                                          "<%s>: add one", written->word, element));
    return "";
}

static void add_written(struct course_words *course, const struct written_word *written)
{
    const char *folded = command_word_folded(course->arena, written->word);
    if (!names_add(&course->taken, folded, 0)) {
        complain(course, written, arena_print(course->arena, "command word '%s' stands twice in the course: keep "
                                              "one", written->word));
        return;
    }
    const struct built_in_word *base = built_in_named(folded);
    course->words[course->count++] = (struct command_word){
        .word = folded,
        .objective = written_objective(course, written, base),
        .meaning = written_text(course, written, written->meaning, base ? base->meaning : NULL, "meaning"),
        .needs = written_text(course, written, written->needs, base ? base->needs : NULL, "needs"),
        .trap = written->trap ? written->trap : base ? base->trap : NULL,
        .generic = false,
    };
}

static void add_built_in(struct course_words *course, const struct built_in_word *word)
{
    if (!names_add(&course->taken, word->word, 0))
        return;
    course->words[course->count++] = (struct command_word){
        .word = word->word,
        .objective = objective_of_kind(course->objectives, course->objective_count, word->kind),
        .meaning = word->meaning,
        .needs = word->needs,
        .trap = word->trap,
        .generic = true,
    };
}

bool command_words_of_course(struct arena *arena, const struct objective *objectives, size_t objective_count,
                             const struct written_word *written, size_t written_count, const char *file,
                             const struct command_word **words, size_t *word_count,
                             struct messages *messages)
{
    struct course_words course = {
        .arena = arena, .objectives = objectives, .objective_count = objective_count,
        .objective_names = names_new(), .taken = names_new(), .file = file, .messages = messages,
        .words = arena_get_array(arena, written_count + BUILT_IN_COUNT, sizeof *course.words),
    };
    size_t errors = messages->errors;
    for (size_t i = 0; i < objective_count; i++)
        names_add(&course.objective_names, objectives[i].id, (int)i);
    for (size_t i = 0; i < written_count; i++)
        add_written(&course, &written[i]);
    for (size_t i = 0; i < BUILT_IN_COUNT; i++)
        add_built_in(&course, &built_in[i]);
    names_free(&course.objective_names);
    names_free(&course.taken);
    *words = course.words;
    *word_count = course.count;
    return messages->errors == errors;
}
