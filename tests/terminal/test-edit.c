/* The editor, with shell scripts in its place, on a pseudo-terminal. */
#include <criterion/criterion.h>
#include <dirent.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "../support/pty.h"

static char folder[64], path[128];

/* An editor that runs these shell commands with the file as $1, or $2 behind an option. */
static void make_editor(const char *commands)
{
    snprintf(folder, sizeof folder, "/tmp/ownmark-trial-XXXXXX");
    cr_assert(mkdtemp(folder) != NULL);
    snprintf(path, sizeof path, "%s/editor", folder);
    FILE *script = fopen(path, "w");
    cr_assert(script != NULL);
    fprintf(script, "#!/bin/sh\n%s\n", commands);
    cr_assert(fclose(script) == 0 && chmod(path, 0700) == 0);
}

/* The editor's own file is all that is left. */
static void check_folder_and_remove_it(void)
{
    struct dirent *item;
    DIR *listing = opendir(folder);
    cr_assert(listing != NULL);
    while ((item = readdir(listing)) != NULL)
        cr_expect(item->d_name[0] == '.' || strcmp(item->d_name, "editor") == 0, "left behind: %s", item->d_name);
    closedir(listing);
    cr_expect(remove(path) == 0 && rmdir(folder) == 0);
}

static void start(struct pty *pty, const char *option)
{
    static char editor[256], runtime[128];
    const char *path_to_program = getenv("PTY_SESSION");
    char *arguments[] = {(char *)(size_t)(path_to_program ? path_to_program : "build/pty-session"), "edit", NULL};
    snprintf(editor, sizeof editor, "VISUAL=%s%s", path, option);
    snprintf(runtime, sizeof runtime, "XDG_RUNTIME_DIR=%s", folder);
    const char *settings[] = {editor, runtime, NULL};
    pty_start(pty, arguments, settings, 80, 24);
    pty_expect(pty, "> ");
    pty_send(pty, "a text\r");
}

static void check_edit(const char *commands, const char *option, const char *expected)
{
    struct pty pty;
    make_editor(commands);
    start(&pty, option);
    pty_expect(&pty, expected);
    pty_expect(&pty, "answer> ");
    pty_send(&pty, "\x04");
    cr_expect(pty_wait(&pty) == 0);
    pty_free(&pty);
    check_folder_and_remove_it();
}

Test(terminal, edit_gives_the_new_text)
{
    check_edit("echo more >>\"$1\"", "", "editor: edited [a text\r\nmore]");
    check_edit("test \"$1\" = -n && echo more >>\"$2\"", " -n ", "editor: edited [a text\r\nmore]");
    check_edit(": >\"$1\"", "", "editor: edited []");
}

Test(terminal, edit_says_when_nothing_changed)
{
    check_edit("true", "", "editor: unchanged [a text]");
}

Test(terminal, edit_works_on_a_private_file_of_a_private_folder)
{
    check_edit("stat -c '%a' \"$1\" \"$(dirname \"$1\")\" | tr '\\n' ' ' >\"$1.new\"; mv \"$1.new\" \"$1\"", "",
               "editor: edited [600 700 ]");
}

Test(terminal, edit_refuses_failures_and_what_is_not_text)
{
    check_edit("echo more >>\"$1\"; exit 1", "", "failed; the text is as it was");
    check_edit("printf '\\377' >\"$1\"", "", "not text in UTF-8");
    check_edit("head -c 70000 /dev/zero | tr '\\0' w >\"$1\"", "", "editor: not edited");
    check_edit("rm \"$1\"", "", "editor: not edited");
    check_edit("true", "-no-such-program", "was not found");
    check_edit("stty raw -echo", "", "editor: unchanged");
}

Test(terminal, edit_uses_no_shell)
{
    struct pty pty;
    make_editor("echo \"$2\" >\"$3\"");
    start(&pty, " -x $(id);ls");
    pty_expect(&pty, "editor: edited [$(id);ls]");
    pty_send(&pty, "quit\r");
    pty_free(&pty);
    char draft[160];
    snprintf(draft, sizeof draft, "rm -rf %s", folder);
    cr_expect(system(draft) == 0);
}

Test(terminal, edit_ends_with_the_editor_when_told_to_end)
{
    struct pty pty;
    make_editor("echo kept >>\"$1\"; echo editing; read line");
    start(&pty, "");
    pty_expect(&pty, "editing");
    pty_signal(&pty, SIGTERM);
    pty_expect(&pty, "editor: hangup [a text\r\nkept]");
    cr_expect(pty_wait(&pty) == 256 + SIGTERM);
    pty_free(&pty);
    check_folder_and_remove_it();
}
