/* Asks lines on a terminal and says what it got, for the tests of the terminal room. Not part of the product.
 *
 * Arguments: plain, several, clock, notice, words, prefill, long (each switches one thing on); edit: each line is edited;
 * crash: abort at the first line; show: a page in colours first. Ends at the line "quit". */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/message.h"
#include "base/text.h"
#include "terminal/terminal.h"

static bool wants(int count, char **words, const char *word)
{
    for (int i = 1; i < count; i++)
        if (strcmp(words[i], word) == 0)
            return true;
    return false;
}

static void say(const char *words)
{
    terminal_write(words, strlen(words));
}

static void add_seconds(void *context, struct buffer *out)
{
    int *seconds = context;
    buffer_print(out, "%d:%02d of 6:00", *seconds / 60, *seconds % 60);
    ++*seconds;
}

/* Long texts are told by their length. */
static void tell(const struct terminal_entry *entry)
{
    static const char *const names[] = {"line", "end", "interrupted", "hangup"};
    struct buffer words = BUFFER_EMPTY;
    buffer_print(&words, "got %s%s ", names[entry->outcome], entry->pasted ? " pasted" : "");
    if (strlen(entry->text) > 200)
        buffer_print(&words, "(%zu bytes)", strlen(entry->text));
    for (const char *at = entry->text; *at && strlen(entry->text) <= 200; at++)
        buffer_add(&words, *at == '\n' ? "|" : (char[]){*at, '\0'});
    buffer_add(&words, ";\n");
    say(words.text);
    buffer_free(&words);
}

static void edit(const char *text)
{
    static const char *const names[] = {"edited", "unchanged", "not edited", "hangup"};
    struct buffer out = BUFFER_EMPTY;
    struct messages messages = MESSAGES_EMPTY;
    enum terminal_edit_result result = terminal_edit(text, &out, &messages);
    messages_render(&messages, 0, &out);
    printf("editor: %s [%s]\n", names[result], buffer_text(&out));
    fflush(stdout);
    messages_free(&messages);
    buffer_free(&out);
    if (result == TERMINAL_EDIT_HUNG_UP)
        terminal_end_by_signal();
}

static void show_colours(void)
{
    struct page *page = page_new();
    page_paragraph(page, "It is ");
    page_add(page, STYLE_GOOD, "earned \u2265 1");
    terminal_show(page);
    page_free(page);
}

int main(int count, char **words)
{
    static const char *const vocabulary[] = {"explain", "evaluate", "describe"};
    int seconds = 0;
    struct terminal_entry entry;
    struct terminal_ask ask = {.prompt = "answer", .several_lines = wants(count, words, "several")};
    bool going = true;
    terminal_open(wants(count, words, "plain"));
    if (wants(count, words, "long"))
        ask.prompt = "Did you earn the point about the direction in which the sand moves, yes or no, or ? for help";
    if (wants(count, words, "words")) {
        ask.completions = vocabulary;
        ask.completion_count = 3;
    }
    if (wants(count, words, "clock")) {
        ask.clock = add_seconds;
        ask.clock_context = &seconds;
    }
    if (wants(count, words, "notice")) {
        ask.notice = "Time is up; finish your sentence.";
        ask.notice_after = 0;
    }
    ask.prefill = wants(count, words, "prefill") ? "start" : NULL;
    if (wants(count, words, "show"))
        show_colours();
    while (going) {
        terminal_ask(&ask, &entry);
        tell(&entry);
        if (entry.outcome == TERMINAL_HUNG_UP)
            terminal_end_by_signal();
        if (entry.outcome == TERMINAL_ENTERED && wants(count, words, "edit"))
            edit(entry.text);
        if (wants(count, words, "flush"))
            terminal_flush_input();
        going = entry.outcome == TERMINAL_ENTERED && strcmp(entry.text, "quit") != 0;
        terminal_entry_free(&entry);
    }
    terminal_close();
    if (!terminal_output_failed())
        return 0;
    fprintf(stderr, "output failed: %s\n", terminal_output_reason());
    return 3;
}
