#include "commands/table.h"

const struct command *const commands[] = {
    &command_practise,
    &command_standing,
    &command_missed,
    &command_timetable,
    &command_condense,
    &command_explain,
    &command_settings,
    &command_bank_check,
    &command_bank_balance,
    &command_bank_show,
    &command_bank_import,
    &command_bank_tidy,
    &command_bank_write,
    &command_paper,
    &command_record_check,
    &command_record_rebuild,
    &command_record_backup,
    &command_record_export,
    &command_record_erase,
    NULL,
};
