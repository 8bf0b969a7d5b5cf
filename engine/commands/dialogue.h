/* Something that takes lines of text and gives screens, driven from the terminal: asked, shown, asked again. */
#ifndef OWNMARK_COMMANDS_DIALOGUE_H
#define OWNMARK_COMMANDS_DIALOGUE_H

#include "base/message.h"
#include "commands/command.h"
#include "practice/practice.h"

/* What is driven; the functions mean what those of practice.h mean. */
struct dialogue {
    const struct page *(*screen)(void *machine);
    const struct practice_ask *(*ask)(void *machine);       /* NULL: it is over */
    enum practice_result (*enter)(void *machine, const char *line, bool pasted, struct messages *messages);
    const char *(*edit_text)(const void *machine);          /* may be NULL where PRACTICE_EDIT never comes, edited too */
    enum practice_result (*edited)(void *machine, const char *text, struct messages *messages);
    bool (*keep_draft)(void *machine, const char *line, struct messages *messages);
    void (*leave)(void *machine);
};

/* Over a struct practice. */
extern const struct dialogue dialogue_of_practice;

/* Until it is over or left: EXIT_DONE. EXIT_SYSTEM when the record or the output failed. A hang-up ends the program. */
enum exit_status dialogue_run(const struct dialogue *dialogue, void *machine, struct messages *messages);

#endif
