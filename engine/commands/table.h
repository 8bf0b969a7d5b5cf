/* Every command's descriptor; table.c gives their order in the help. */
#ifndef OWNMARK_COMMANDS_TABLE_H
#define OWNMARK_COMMANDS_TABLE_H

#include "commands/command.h"

extern const struct command command_practise;
extern const struct command command_standing;
extern const struct command command_missed;
extern const struct command command_timetable;
extern const struct command command_condense;
extern const struct command command_explain;
extern const struct command command_mock;
extern const struct command command_settings;
extern const struct command command_bank_check;
extern const struct command command_bank_balance;
extern const struct command command_bank_show;
extern const struct command command_bank_import;
extern const struct command command_bank_tidy;
extern const struct command command_bank_write;
extern const struct command command_paper;
extern const struct command command_record_check;
extern const struct command command_record_rebuild;
extern const struct command command_record_backup;
extern const struct command command_record_export;
extern const struct command command_record_erase;

#endif
