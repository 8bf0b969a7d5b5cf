/* An editor of the user's choice on a private file. */
#include "terminal/terminal.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/files.h"
#include "base/memory.h"
#include "base/text.h"
#include "terminal/state.h"

struct draft {
    char *folder;       /* made for it, mode 0700 */
    char *path;
};

static const char *folder_for_drafts(void)
{
    static const char *const names[] = {"XDG_RUNTIME_DIR", "TMPDIR"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const char *folder = getenv(names[i]);
        if (folder && folder[0] == '/' && access(folder, W_OK | X_OK) == 0)
            return folder;
    }
    return "/tmp";
}

static void draft_remove(struct draft *draft)
{
    if (draft->path)
        unlink(draft->path);
    if (draft->folder)
        rmdir(draft->folder);
    free(draft->path);
    free(draft->folder);
    *draft = (struct draft){NULL, NULL};
}

static bool draft_make(struct draft *draft, const char *text, struct messages *messages)
{
    struct buffer content = BUFFER_EMPTY;
    draft->folder = path_join(folder_for_drafts(), "ownmark-XXXXXX");
    draft->path = NULL;
    if (!mkdtemp(draft->folder)) {
        messages_error(messages, "no folder for the draft could be made in '%s': %s; set TMPDIR to one that can be "
                       "written to", folder_for_drafts(), strerror(errno));
        free(draft->folder);
        draft->folder = NULL;
        return false;
    }
    draft->path = path_join(draft->folder, "answer.txt");
    buffer_add(&content, text);
    if (content.length > 0)
        buffer_add_character(&content, '\n');
    bool made = file_write(draft->path, buffer_text(&content), content.length, 0600, false, messages);
    buffer_free(&content);
    return made;
}

/* ---- the editor's command ---- */

/* Is there a program of this name on PATH? execvp would tell too late to try the next. */
static bool is_on_path(const char *name)
{
    const char *path = getenv("PATH");
    bool found = false;
    for (path = path ? path : "/bin:/usr/bin"; *path && !found; path += *path == ':') {
        size_t length = strcspn(path, ":");
        struct buffer full = BUFFER_EMPTY;
        buffer_add_bytes(&full, path, length);
        buffer_print(&full, "/%s", name);
        found = access(full.text, X_OK) == 0;
        buffer_free(&full);
        path += length;
    }
    return found;
}

static const char *editor_command(void)
{
    const char *const wanted[] = {getenv("VISUAL"), getenv("EDITOR")};
    for (size_t i = 0; i < 2; i++)
        if (wanted[i] && !text_is_blank(wanted[i]))
            return wanted[i];
    return is_on_path("nano") ? "nano" : is_on_path("vi") ? "vi" : NULL;
}

/* Splits `words` (changed) at spaces and adds the path and NULL. The array is the caller's. */
static char **arguments_of(char *words, char *path)
{
    char **arguments = NULL, *rest;
    size_t count = 0, capacity = 0;
    for (char *word = strtok_r(words, " ", &rest); word; word = strtok_r(NULL, " ", &rest)) {
        arguments = memory_grow(arguments, &capacity, count, sizeof *arguments);
        arguments[count++] = word;
    }
    arguments = memory_resize_array(arguments, count + 2, sizeof *arguments);
    arguments[count] = path;
    arguments[count + 1] = NULL;
    return arguments;
}

/* ---- running it ---- */

static _Noreturn void become(char **arguments, const sigset_t *mask)
{
    signal(SIGINT, SIG_DFL);
    signal(SIGQUIT, SIG_DFL);
    sigprocmask(SIG_SETMASK, mask, NULL);
    execvp(arguments[0], arguments);
    _exit(errno == ENOENT ? 127 : 126);
}

/* Waits for the editor; a signal that asks us to end is passed on to it and noted. */
static int wait_for(pid_t editor, const sigset_t *watched)
{
    int status = 0;
    while (waitpid(editor, &status, WNOHANG) == 0) {
        int number = sigwaitinfo(watched, NULL);
        if (number == SIGTERM || number == SIGHUP) {
            terminal_state.signal = number;
            kill(editor, number);
        }
    }
    return status;
}

/* The editor's wait status, -1 when it could not be started. Ctrl-C and Ctrl-\ are the editor's meanwhile. */
static int run(char **arguments)
{
    sigset_t watched, before;
    struct sigaction ignore = {.sa_handler = SIG_IGN}, interrupt, quit;
    sigemptyset(&watched);
    sigaddset(&watched, SIGCHLD);
    sigaddset(&watched, SIGTERM);
    sigaddset(&watched, SIGHUP);
    sigprocmask(SIG_BLOCK, &watched, &before);
    sigaction(SIGINT, &ignore, &interrupt);
    sigaction(SIGQUIT, &ignore, &quit);
    pid_t editor = fork();
    if (editor == 0)
        become(arguments, &before);
    int status = editor > 0 ? wait_for(editor, &watched) : -1;
    sigaction(SIGINT, &interrupt, NULL);
    sigaction(SIGQUIT, &quit, NULL);
    sigprocmask(SIG_SETMASK, &before, NULL);
    return status;
}

static bool edit_draft(const char *command, char *path, struct messages *messages)
{
    char *words = memory_copy_text(command);
    char **arguments = arguments_of(words, path);
    int status = run(arguments);
    free(arguments);
    free(words);
    if (terminal_state.modes_known)
        tcsetattr(STDIN_FILENO, TCSADRAIN, &terminal_state.modes);
    if (status == 0 || terminal_state.signal)
        return true;
    if (WIFEXITED(status) && WEXITSTATUS(status) == 127)
        messages_error(messages, "the editor '%s' was not found; set VISUAL or EDITOR to one that is installed", command);
    else
        messages_error(messages, "the editor '%s' failed; the text is as it was before", command);
    return false;
}

static bool read_draft(const char *path, struct buffer *out, struct messages *messages)
{
    if (!file_read(path, TERMINAL_ENTRY_LIMIT, out, messages))
        return false;
    if (!text_is_valid(buffer_text(out), out->length)) {
        messages_error(messages, "the edited text was not taken: it holds bytes that are not text in UTF-8");
        return false;
    }
    while (out->length > 0 && (out->text[out->length - 1] == '\n' || out->text[out->length - 1] == '\r'))
        buffer_shorten(out, out->length - 1);
    return true;
}

enum terminal_edit_result terminal_edit(const char *text, struct buffer *out, struct messages *messages)
{
    struct draft draft = {NULL, NULL};
    const char *command = editor_command();
    enum terminal_edit_result result = TERMINAL_NOT_EDITED;
    buffer_clear(out);
    if (!terminal_is_interactive())
        messages_error(messages, "an editor needs a terminal; type the text instead");
    else if (!command)
        messages_error(messages, "no editor was found; set VISUAL or EDITOR, or type the text instead");
    else if (draft_make(&draft, text, messages) && edit_draft(command, draft.path, messages) &&
             read_draft(draft.path, out, messages))
        result = terminal_state.signal ? TERMINAL_EDIT_HUNG_UP
                 : text_equal(buffer_text(out), text) ? TERMINAL_UNCHANGED : TERMINAL_EDITED;
    draft_remove(&draft);
    return result;
}
