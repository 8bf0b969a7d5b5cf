/* Inside the practice room: what the mock-*.c files and the machine share. Not for other rooms. */
#ifndef OWNMARK_PRACTICE_MOCK_INNER_H
#define OWNMARK_PRACTICE_MOCK_INNER_H

#include "practice/machine.h"
#include "practice/mock.h"

#define MOCK_PLAN "mock=yes\n"      /* how the detail of its sitting's opening starts */

/* What happens to the clock is kept as EVENT_STAGE_ENTERED: its number is the clock's reading in seconds, its detail
 * one of these ("answer" and "check" are stages of the cycle; their script and part are the part gone to). */
#define MOCK_AT_LIST "list"         /* away from the part in hand */
#define MOCK_AT_REST "rest"         /* the clock stands */
#define MOCK_AWAY "away"            /* left: the clock stands */
#define MOCK_TIME_OVER "time-over"
/* And as EVENT_TEXT_SAVED: */
#define MOCK_COME_BACK "come-back"              /* of a question: "yes" or "" */
#define MOCK_PREDICTED "predicted"              /* of the paper: marks as a decimal, "" when passed over */

enum mock_place {
    MOCK_PAUSED,        /* the clock stands: before the start, in a rest break, when gone on with */
    MOCK_AT_THE_LIST,
    MOCK_WRITING,
    MOCK_HANDING_IN,    /* asked whether to */
    MOCK_PREDICTING,
    MOCK_MARKING
};

struct mock_script {
    struct bank *bank;
    struct script *script;
    bool come_back;
};

struct mock {
    struct mock_about about;
    struct mock_script *scripts;
    size_t count;
    struct bank *const *banks;
    enum mock_place place;

    /* What the events say. */
    size_t question, part;      /* gone to last */
    bool at_part;               /* else at the list */
    bool running;
    double used;                /* the clock's last reading, seconds */
    bool time_over, handed_in, begun;
    int rests;
    double rested;              /* seconds */
    moment rest_began;          /* NO_MOMENT: not resting */
    double predicted;           /* NAN: passed over or not asked yet */
    bool predicted_settled;
    moment handed_in_at;

    double read_at;             /* clock_elapsed of the last reading; < 0: the clock stands */
    bool draft;                 /* a half-typed line waits for the part */
};

/* ---- mock-plan.c ---- */
void mock_write_plan(const struct mock_about *about, struct buffer *out);

/* ---- mock-begin.c ---- */
void mock_free(struct mock *mock);
struct practice *mock_gather(struct bank *const *banks, struct record *record, int64_t sitting, struct messages *messages);

/* ---- mock-clock.c ---- */
double mock_used(const struct practice *practice);                          /* seconds, now */
void mock_take(struct practice *practice, const struct event *event);       /* before script_apply does */
void mock_hold(struct practice *practice, size_t question, size_t part);    /* takes a script in hand */
size_t mock_script_of(const struct mock *mock, int64_t sequence);           /* count when there is none */
bool mock_note(struct practice *practice, const char *what, struct messages *messages);
bool mock_call_time(struct practice *practice, struct messages *messages);  /* when it is over and was not called yet */
void mock_fill_ask(struct practice *practice);                              /* the clock of the prompt */
void mock_start_clock(struct practice *practice);
void mock_stop_clock(struct practice *practice);

/* ---- mock-desk.c ---- */
void mock_present(struct practice *practice);
enum practice_result mock_enter(struct practice *practice, const char *line, struct messages *messages);
enum practice_result mock_write(struct practice *practice, const char *line, bool pasted, struct messages *messages);
bool mock_instruct(struct practice *practice, const char *line, enum practice_result *result, struct messages *messages);
void mock_help(struct practice *practice);
void mock_stop(struct practice *practice, struct messages *messages);    /* notes that the clock stands: the program ends */
void mock_pause(struct practice *practice);        /* the screen and place of who comes back */
bool mock_is_sat(const struct practice *practice);      /* a mock, not handed in yet */
bool mock_part_written(const struct part_facts *facts);

/* ---- mock-hand-in.c ---- */
void mock_offer_hand_in(struct practice *practice);
enum practice_result mock_enter_hand_in(struct practice *practice, const char *line, struct messages *messages);
void mock_ask_prediction(struct practice *practice);
enum practice_result mock_enter_prediction(struct practice *practice, const char *line, struct messages *messages);
size_t mock_next_unmarked(const struct mock *mock);      /* count when there is none */
void mock_mark_next(struct practice *practice);         /* there must be one */

/* ---- mock-result.c ---- */
void mock_show_result(struct practice *practice);

#endif
