/* Pictures inside pages. Base64: RFC 4648, section 10 ("foobar" is Zm9vYmFy); media types by the first bytes: PNG (ISO/IEC 15948)
 * and JPEG (ISO/IEC 10918-1), from memory. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "report/html.h"
#include "report/picture.h"
#include "report/text.h"

static char folder[] = "/tmp/ownmark-picture-XXXXXX";
static struct buffer out;
static struct page *page;

static void put(const char *name, const char *bytes, size_t length)
{
    char path[96];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "wb");
    cr_assert(file != NULL);
    fwrite(bytes, 1, length, file);
    fclose(file);
}

static void set_up(void)
{
    cr_assert(mkdtemp(folder) != NULL);
    page = page_new();
    put("wave.svg", "<svg viewBox=\"0 0 100 50\"/>", 27);
}

static void tear_down(void)
{
    char command[96];
    snprintf(command, sizeof command, "rm -r %s", folder);
    cr_expect_eq(system(command), 0);
    page_free(page);
    buffer_free(&out);
}

static bool has(const char *text)
{
    return strstr(buffer_text(&out), text) != NULL;
}

static void add_figure(const char *file)
{
    page_picture(page, "Figure 1", folder, file, "a \"wave\" & its crest");
    page_add(page, STYLE_PLAIN, "%s", "a wave");
    page_note(page, "Figure 1", "a wave. In words: a wave and its crest (drawing: %s)", file);
    page_paragraph(page, "Label it.");
}

#define PICTURE(name) Test(report, name, .init = set_up, .fini = tear_down)

PICTURE(a_picture_stands_in_the_page_in_place_of_its_note)
{
    static const struct html_look look = {.points = 28};
    add_figure("wave.svg");
    page_render_html(page, &look, &out);
    cr_expect(has("<img alt=\"a &quot;wave&quot; &amp; its crest\" width=\"250\" src=\"data:image/svg+xml;base64,PHN2Zy"), "%s", buffer_text(&out));
    cr_expect(has("<figcaption><strong>Figure 1:</strong> a wave</figcaption>"));
    cr_expect_not(has("In words"));
    cr_expect(has("Label it."));
}

PICTURE(a_picture_that_cannot_be_shown_leaves_its_note)
{
    static const struct html_look look = {.points = 28};
    static const char *const files[] = {"none.svg", "../wave.svg", "/etc/hostname", "wave.txt", "not.png", "empty.svg", "link.svg"};
    char path[96];
    put("wave.txt", "<svg", 4), put("not.png", "<svg", 4), put("empty.svg", "", 0);
    snprintf(path, sizeof path, "%s/link.svg", folder);
    cr_assert_eq(symlink("/etc/hostname", path), 0);
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        page_clear(page), buffer_clear(&out);
        add_figure(files[i]);
        page_render_html(page, &look, &out);
        cr_expect_not(has("<img"), "%s", files[i]);
        cr_expect(has("In words"), "%s", files[i]);
    }
}

PICTURE(a_terminal_gets_the_note_only)
{
    static const struct text_look look = {.width = 80};
    struct page *copy = page_new();
    add_figure("wave.svg");
    page_append(copy, page);
    page_render_text(copy, &look, &out);
    cr_expect_str_eq(buffer_text(&out), "│ Figure 1: a wave. In words: a wave and its crest (drawing: wave.svg)\n\nLabel it.\n");
    page_free(copy);
}

PICTURE(kinds_are_known_by_name_and_first_bytes)
{
    put("a.png", "\x89PNG\r\n\x1a\nfoobar", 14), put("a.JPEG", "\xff\xd8\xff" "foobar", 9), put("b.jpg", "\xff\xd8\xff" "foobar", 9);
    cr_expect(html_add_picture(&out, folder, "a.png", NULL, 1));
    cr_expect(has("<img alt=\"\" src=\"data:image/png;base64,iVBORw0KGgpmb29iYXI=\"/>"), "%s", buffer_text(&out));
    cr_expect(html_add_picture(&out, folder, "a.JPEG", NULL, 1) && has("data:image/jpeg;base64,/9j/Zm9vYmFy"));
    cr_expect(html_add_picture(&out, folder, "b.jpg", NULL, 1));
}

PICTURE(a_drawing_s_own_width_stays)
{
    put("own.svg", "<svg width=\"30\" viewBox=\"0 0 100 50\"/>", 38);
    cr_expect(html_add_picture(&out, folder, "own.svg", NULL, 2));
    cr_expect_not(has(" width="));
    buffer_clear(&out);
    cr_expect(html_add_picture(&out, folder, "wave.svg", NULL, 2) && has(" width=\"200\""));
}

PICTURE(a_picture_too_large_is_none)
{
    size_t length = 2 * 1024 * 1024 + 1;
    char *bytes = calloc(length, 1);
    memcpy(bytes, "\x89PNG\r\n\x1a\n", 8);
    put("big.png", bytes, length);
    cr_expect_not(html_add_picture(&out, folder, "big.png", NULL, 1));
    cr_expect_eq(out.length, 0);
    free(bytes);
}
