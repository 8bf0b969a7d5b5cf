/* Superscript and subscript characters of Unicode (blocks Superscripts and Subscripts, Phonetic Extensions, Spacing
 * Modifier Letters, Latin-1 Supplement). */
#include <string.h>

#include "report/marked.h"

struct pair {
    const char *plain, *raised, *lowered;   /* NULL: no such character */
};

static const struct pair pairs[] = {
    {"0", "⁰", "₀"}, {"1", "¹", "₁"}, {"2", "²", "₂"}, {"3", "³", "₃"}, {"4", "⁴", "₄"},
    {"5", "⁵", "₅"}, {"6", "⁶", "₆"}, {"7", "⁷", "₇"}, {"8", "⁸", "₈"}, {"9", "⁹", "₉"},
    {"+", "⁺", "₊"}, {"-", "⁻", "₋"}, {"\u2212", "⁻", "₋"}, {"=", "⁼", "₌"}, {"(", "⁽", "₍"}, {")", "⁾", "₎"},
    {"a", "ᵃ", "ₐ"}, {"b", "ᵇ", NULL}, {"c", "ᶜ", NULL}, {"d", "ᵈ", NULL}, {"e", "ᵉ", "ₑ"}, {"f", "ᶠ", NULL},
    {"g", "ᵍ", NULL}, {"h", "ʰ", "ₕ"}, {"i", "ⁱ", "ᵢ"}, {"j", "ʲ", "ⱼ"}, {"k", "ᵏ", "ₖ"}, {"l", "ˡ", "ₗ"},
    {"m", "ᵐ", "ₘ"}, {"n", "ⁿ", "ₙ"}, {"o", "ᵒ", "ₒ"}, {"p", "ᵖ", "ₚ"}, {"r", "ʳ", "ᵣ"}, {"s", "ˢ", "ₛ"},
    {"t", "ᵗ", "ₜ"}, {"u", "ᵘ", "ᵤ"}, {"v", "ᵛ", "ᵥ"}, {"w", "ʷ", NULL}, {"x", "ˣ", "ₓ"}, {"y", "ʸ", NULL},
    {"z", "ᶻ", NULL},
};

/* The form of the character at `text`; its length in bytes goes to `taken`. */
static const char *form_of(const char *text, bool raised, size_t *taken)
{
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        *taken = strlen(pairs[i].plain);
        if (strncmp(text, pairs[i].plain, *taken) == 0)
            return raised ? pairs[i].raised : pairs[i].lowered;
    }
    return NULL;
}

bool script_add(struct buffer *out, const char *text, bool raised)
{
    size_t start = out->length, taken;
    for (; *text; text += taken) {
        const char *form = form_of(text, raised, &taken);
        if (!form) {
            buffer_shorten(out, start);
            return false;
        }
        buffer_add(out, form);
    }
    return true;
}
