/* Talking to the interview in lines, as a person would. */
#ifndef OWNMARK_TESTS_AUTHORING_TALK_H
#define OWNMARK_TESTS_AUTHORING_TALK_H

#include <criterion/criterion.h>

#include "authoring/interview.h"
#include "base/buffer.h"

struct talk {
    char folder[64], bank[96], draft[96];
    struct interview *interview;
    struct messages messages;
    struct buffer said;             /* all screens and prompts since talk_forget */
};

void talk_set_up(struct talk *talk, const char *bank);      /* a copy of this bank, in a folder of its own */
void talk_tear_down(struct talk *talk);

/* Begins or, after a leave or a kill, begins again. False: messages say why. */
bool talk_begin(struct talk *talk, const char *question);
void talk_end(struct talk *talk);                           /* as if killed: nothing is said to the machine */

/* Each line of the text is one entry, an empty one too. Returns the prompt that follows; "" when it is over. */
const char *talk_type(struct talk *talk, const char *lines);

void talk_expect(struct talk *talk, const char *text);      /* among what was said */
void talk_expect_not(struct talk *talk, const char *text);
void talk_forget(struct talk *talk);

char *talk_read(const char *path);                          /* the file's bytes; the caller frees */
void talk_write(const char *path, const char *bytes);

#endif
