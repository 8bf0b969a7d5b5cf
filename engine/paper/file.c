/* Writing and reading the file of a paper: lines of "name: value" in a fixed order. */
#include "paper/file.h"

#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/files.h"
#include "base/hash.h"
#include "base/memory.h"
#include "base/text.h"

#define FIRST_LINE "ownmark paper 1"
enum { WORDS_MOST = 5, SHOWN_COLUMNS = 60 };

/* ---- Writing ------------------------------------------------------------------------------------------------ */

void paper_file_text(const struct paper *paper, struct buffer *out)
{
    buffer_print(out, FIRST_LINE "\ncourse: %s\nlanguage: %s\nmarks: %d\nminutes: %d\nseed: %" PRIu64 "\nmade: ",
                 paper->course, paper->language, paper->marks, paper->minutes, paper->seed);
    add_iso(out, paper->made);
    for (size_t i = 0; i < paper->bank_count; i++)
        buffer_print(out, "\nbank: %s %s %s", paper->banks[i].id, paper->banks[i].course_hash, paper->banks[i].path);
    for (size_t i = 0; i < paper->question_count; i++) {
        const struct paper_question *question = &paper->questions[i];
        buffer_print(out, "\nquestion: %zu %s %d %" PRIu64 " %s", question->bank + 1, question->id, question->marks,
                     question->seed, question->hash);
    }
    buffer_add(out, "\nend\n");
}

/* ---- Lines -------------------------------------------------------------------------------------------------- */

struct paper_lines {
    char *rest;                 /* NULL when the last line was taken */
    const char *name;           /* of the file */
    unsigned long number;       /* of the line taken last */
    struct messages *messages;
};

static bool fault(const struct paper_lines *lines, const char *found, const char *wanted)
{
    messages_add(lines->messages, SEVERITY_ERROR, (struct place){lines->name, lines->number, 1}, NULL,
                 "'%.*s' is not what stands here in the file of a paper: %s; take the file as 'ownmark paper' wrote it",
                 (int)text_fit(found, SHOWN_COLUMNS), found, wanted);
    return false;
}

static char *take_line(struct paper_lines *lines)
{
    char *line = lines->rest;
    if (!line)
        return NULL;
    char *end = strchr(line, '\n');
    lines->rest = end ? end + 1 : NULL;
    if (end)
        *end = '\0';
    lines->number++;
    return line;
}

/* The value of the next line, which must be called `field`; NULL and a message if it is not. */
static char *take_value(struct paper_lines *lines, const char *field)
{
    struct buffer wanted = BUFFER_EMPTY;
    char *line = take_line(lines), *value = NULL;
    size_t length = strlen(field);
    if (line && strncmp(line, field, length) == 0 && strncmp(line + length, ": ", 2) == 0 && line[length + 2]) {
        value = line + length + 2;
    } else {
        buffer_print(&wanted, "wanted is a line '%s: …'", field);
        fault(lines, line ? line : "the end of the file", buffer_text(&wanted));
        buffer_free(&wanted);
    }
    return value;
}

static bool is_next(const struct paper_lines *lines, const char *field)
{
    return lines->rest && strncmp(lines->rest, field, strlen(field)) == 0;
}

/* ---- Values ------------------------------------------------------------------------------------------------- */

static bool read_whole(const char *text, uint64_t most, uint64_t *value)
{
    if (!*text || strspn(text, "0123456789") != strlen(text) || (text[0] == '0' && text[1]))
        return false;
    errno = 0;
    *value = strtoull(text, NULL, 10);
    return errno == 0 && *value <= most;
}

static bool read_count(const char *text, int most, int *value)
{
    uint64_t whole;
    bool good = read_whole(text, (uint64_t)most, &whole) && whole >= 1;
    *value = good ? (int)whole : 0;
    return good;
}

static bool is_letter(char c)
{
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}

static bool is_id(const char *id)
{
    return text_is_id(id, strlen(id));
}

static bool is_hash(const char *hash)
{
    return strlen(hash) == 32 && strspn(hash, "0123456789abcdef") == 32;
}

static bool is_language(const char *tag)
{
    return strlen(tag) < 36 && is_letter(tag[0]) &&
           strspn(tag, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-") == strlen(tag);
}

/* Cuts text at single spaces into exactly `count` words, the last of which may hold spaces. */
static bool cut(char *text, char **words, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        words[i] = text;
        char *space = i + 1 < count ? strchr(text, ' ') : NULL;
        if (i + 1 < count && !space)
            return false;
        if (space) {
            *space = '\0';
            text = space + 1;
        }
    }
    return *words[count - 1] != '\0';
}

/* ---- The head ----------------------------------------------------------------------------------------------- */

static bool read_number(struct paper_lines *lines, const char *field, int most, int *value)
{
    const char *text = take_value(lines, field);
    struct buffer wanted = BUFFER_EMPTY;
    if (text && !read_count(text, most, value)) {
        buffer_print(&wanted, "wanted is a whole number from 1 to %d", most);
        fault(lines, text, buffer_text(&wanted));
        buffer_free(&wanted);
        return false;
    }
    return text != NULL;
}

static bool read_made(struct paper_lines *lines, moment *made)
{
    const char *text = take_value(lines, "made");
    if (!text)
        return false;
    struct buffer again = BUFFER_EMPTY;
    bool good = moment_parse(text, made);
    if (good)
        add_iso(&again, *made);
    good = good && strcmp(buffer_text(&again), text) == 0;
    buffer_free(&again);
    return good || fault(lines, text, "wanted is a date and time such as 2026-05-18T13:30:00Z");
}

static bool read_head(struct paper_lines *lines, struct paper *paper)
{
    const char *first = take_line(lines);
    if (!first || strcmp(first, FIRST_LINE) != 0)
        return fault(lines, first ? first : "", "wanted is '" FIRST_LINE "'");
    if (!(paper->course = take_value(lines, "course")) || !(paper->language = take_value(lines, "language")))
        return false;
    if (!is_language(paper->language))
        return fault(lines, paper->language, "wanted is a language tag such as en");
    if (!read_number(lines, "marks", PAPER_MARKS_LIMIT, &paper->marks) ||
        !read_number(lines, "minutes", PAPER_MINUTES_LIMIT, &paper->minutes))
        return false;
    const char *seed = take_value(lines, "seed");
    if (!seed)
        return false;
    if (!read_whole(seed, UINT64_MAX, &paper->seed))
        return fault(lines, seed, "wanted is a whole number");
    return read_made(lines, &paper->made);
}

/* ---- Banks and questions ------------------------------------------------------------------------------------ */

static bool read_bank(struct paper_lines *lines, struct paper_bank *banks, size_t *count)
{
    char *words[WORDS_MOST], *value = take_value(lines, "bank");
    if (!value)
        return false;
    if (*count == PAPER_BANK_LIMIT)
        return fault(lines, value, "a paper has at most 16 banks");
    if (!cut(value, words, 3) || !is_id(words[0]) || !is_hash(words[1]))
        return fault(lines, value, "wanted is a bank's id, 32 hexadecimal digits and the path of its file");
    for (size_t i = 0; i < *count; i++)
        if (strcmp(banks[i].id, words[0]) == 0)
            return fault(lines, words[0], "the bank was named before");
    struct paper_bank *bank = &banks[(*count)++];
    bank->id = words[0];
    bank->path = words[2];
    memcpy(bank->course_hash, words[1], sizeof bank->course_hash);
    return true;
}

static bool is_taken(const struct paper_question *questions, size_t count, const struct paper_question *question)
{
    for (size_t i = 0; i < count; i++)
        if (questions[i].bank == question->bank && strcmp(questions[i].id, question->id) == 0)
            return true;
    return false;
}

static bool read_question(struct paper_lines *lines, size_t bank_count, struct paper_question *questions, size_t *count)
{
    char *words[WORDS_MOST], *value = take_value(lines, "question");
    struct paper_question *question = &questions[*count];
    int bank;
    if (!value)
        return false;
    if (*count == PAPER_QUESTION_LIMIT)
        return fault(lines, value, "a paper has at most 1000 questions");
    if (!cut(value, words, 5) || !read_count(words[0], (int)bank_count, &bank) || !is_id(words[1]) ||
        !read_count(words[2], PAPER_MARKS_LIMIT, &question->marks) || !read_whole(words[3], UINT64_MAX, &question->seed) ||
        !is_hash(words[4]))
        return fault(lines, value, "wanted are the bank's number, the question's id, its marks, its seed and 32 "
                                   "hexadecimal digits");
    question->bank = (size_t)bank - 1;
    question->id = words[1];
    memcpy(question->hash, words[4], sizeof question->hash);
    if (is_taken(questions, *count, question))
        return fault(lines, words[1], "the question was there before");
    (*count)++;
    return true;
}

static bool marks_add_up(const struct paper_lines *lines, const struct paper *paper)
{
    long marks = 0;
    for (size_t i = 0; i < paper->question_count; i++)
        marks += paper->questions[i].marks;
    if (marks == paper->marks)
        return true;
    messages_add(lines->messages, SEVERITY_ERROR, (struct place){lines->name, 0, 0}, NULL,
                 "the marks of the questions add up to %ld, but the paper says %d; take the file as 'ownmark paper' wrote "
                 "it", marks, paper->marks);
    return false;
}

static bool read_lines(struct paper_lines *lines, struct arena *arena, struct paper *paper)
{
    struct paper_bank *banks = arena_get_array(arena, PAPER_BANK_LIMIT, sizeof *banks);
    struct paper_question *questions = arena_get_array(arena, PAPER_QUESTION_LIMIT + 1, sizeof *questions);
    bool good = read_head(lines, paper) && read_bank(lines, banks, &paper->bank_count);
    while (good && is_next(lines, "bank: "))
        good = read_bank(lines, banks, &paper->bank_count);
    good = good && read_question(lines, paper->bank_count, questions, &paper->question_count);
    while (good && is_next(lines, "question: "))
        good = read_question(lines, paper->bank_count, questions, &paper->question_count);
    paper->banks = banks;
    paper->questions = questions;
    if (!good)
        return false;
    const char *end = take_line(lines);
    if (!end || strcmp(end, "end") != 0 || !lines->rest || *lines->rest)
        return fault(lines, end ? end : "the end of the file", "wanted is 'end' as the last line");
    return marks_add_up(lines, paper);
}

bool paper_file_parse(const char *bytes, size_t length, const char *name, struct arena *arena, struct paper *paper,
                      struct messages *messages)
{
    *paper = (struct paper){.course = NULL};
    if (!text_is_valid(bytes, length)) {
        messages_add(messages, SEVERITY_ERROR, (struct place){name, 0, 0}, NULL,
                     "this is not the file of a paper: it is not UTF-8 text; take the file as 'ownmark paper' wrote it");
        return false;
    }
    struct paper_lines lines = {arena_copy_bytes(arena, bytes, length), name, 0, messages};
    return read_lines(&lines, arena, paper);
}

bool paper_file_read(const char *path, struct arena *arena, struct paper *paper, struct messages *messages)
{
    struct buffer bytes = BUFFER_EMPTY;
    bool good = file_read(path, PAPER_FILE_LIMIT, &bytes, messages) &&
                paper_file_parse(buffer_text(&bytes), bytes.length, path, arena, paper, messages);
    buffer_free(&bytes);
    return good;
}
