/* What several commands do the same way. */
#ifndef OWNMARK_COMMANDS_SHARED_H
#define OWNMARK_COMMANDS_SHARED_H

#include <stdbool.h>
#include "bank/bank.h"
#include "base/buffer.h"
#include "base/dates.h"
#include "base/json.h"
#include "base/message.h"
#include "commands/command.h"
#include "record/record.h"
#include "report/page.h"

/* Prints and frees the messages; gives status back, so that a command can end with it. */
enum exit_status say_and_end(struct messages *messages, enum exit_status status);

/* Shows and frees the page. */
enum exit_status show_and_end(struct page *page, enum exit_status status);

/* Opens the bank named by the command's word, else the one the record saw last, else the shipped one. NULL with a
 * message. Progress is told on a terminal when the first reading takes long. */
struct bank *open_bank_for(const struct arguments *arguments, struct record *record, struct messages *messages);

/* The same with the bank's word where it stands; NULL: none was given. */
struct bank *open_bank_at(const struct arguments *arguments, const char *word, struct record *record, struct messages *messages);

/* The same before anything is refused: a record that is there is asked which bank was used last, but none is made for it.
 * *readable false: the record is there and cannot be read. */
struct bank *open_bank_first(const struct arguments *arguments, const char *word, bool *readable, struct messages *messages);

/* Does the word name a file rather than a topic or a bank's id: has it a slash, or does it end in .xml? */
bool names_bank_file(const char *word);

/* "[TOPIC] [BANK]": each may be NULL. A single word that names a file (has a slash or ends in .xml) is the bank. */
struct topic_words {
    const char *topic, *bank;
};
struct topic_words topic_words_of(const struct arguments *arguments);

struct record *open_record_for(const struct arguments *arguments, enum record_access access,
                               struct messages *messages);

/* "2026-05-18", or null for NO_DAY; "2026-05-18T14:30:00Z", or null for NO_MOMENT. */
void json_day(struct json *json, const char *name, day_number day);
void json_moment(struct json *json, const char *name, moment when);

/* Notes a setting whose value is a day. False with a message when it could not be kept. */
bool note_day_setting(struct record *record, const char *bank, const char *name, day_number day, struct messages *messages);

/* Runs what reads a record and a bank and writes to neither: opens both, tells what is wrong, closes them. record is NULL
 * when there is none yet. */
typedef enum exit_status record_reader(const struct arguments *arguments, struct record *record, struct bank *bank,
                                       void *context, struct messages *messages);
enum exit_status read_record_and_bank(const struct arguments *arguments, record_reader *read, void *context);

/* Asks a yes-or-no question until it is answered, and says what can be typed when something else was. An empty line
 * means `otherwise`; NOT_ANSWERED when the input ends or the user wants out (.leave): then nothing should be done. */
enum answer { ANSWERED_NO, ANSWERED_YES, NOT_ANSWERED };
enum answer ask_yes_or_no(const char *question, enum answer otherwise);

/* A progress line on standard error for long work; nothing unless it is a terminal. */
void show_progress(size_t done, size_t total, void *what);
void end_progress(void);

#endif
