/* Everyday words that a student may write for a word of the scheme, and forms of one quality. Only where the two say the same
 * in any subject of the school; what is the same in one subject only is a key word of its bank. */
#include "answer/lexicon.h"

#include <stdlib.h>
#include <string.h>

/* ---- Another word for it ------------------------------------------------------------------------- */

/* Stems, in the order of strcmp. One way only: "shut" says "closed", but "close" need not be "shut". */
struct synonym {
    const char *written, *wanted;
};

static const struct synonym synonyms[] = {
    {"ad", "advert"}, {"advertis", "advert"}, {"afterward", "after"}, {"alik", "similar"}, {"barely", "hardly"},
    {"barely", "littl"}, {"begin", "start"}, {"biggest", "largest"}, {"biggest", "most"}, {"boss", "manag"},
    {"bottom", "bed"}, {"brook", "river"}, {"build", "construct"}, {"catch", "trap"}, {"choos", "pick"},
    {"choos", "select"}, {"compani", "firm"}, {"connect", "join"}, {"constant", "same"}, {"construct", "build"},
    {"crack", "break"}, {"creatur", "anim"}, {"creatur", "organism"}, {"dad", "father"}, {"dad", "parent"},
    {"damag", "harm"}, {"damp", "moist"}, {"damp", "wet"}, {"daylight", "light"}, {"dear", "expens"},
    {"dearer", "expens"}, {"devour", "eat"}, {"earli", "soon"}, {"earlier", "soon"}, {"elder", "old"},
    {"employe", "staff"}, {"employe", "worker"}, {"end", "finish"}, {"equal", "same"}, {"fast", "quick"},
    {"fast", "rapid"}, {"finish", "end"}, {"fix", "repair"}, {"floor", "bed"}, {"grip", "hold"}, {"guess", "estim"},
    {"hardly", "littl"}, {"harm", "damag"}, {"hit", "strike"}, {"home", "hous"}, {"hous", "home"}, {"hurt", "harm"},
    {"ident", "same"}, {"ill", "diseas"}, {"immedi", "now"}, {"jam", "congest"}, {"join", "connect"}, {"join", "merg"},
    {"kid", "child"}, {"labour", "work"}, {"leak", "drip"}, {"load", "lot"}, {"load", "mani"}, {"lot", "mani"},
    {"lots", "mani"}, {"mend", "repair"}, {"merg", "join"}, {"mix", "blend"}, {"moist", "damp"}, {"moistur", "water"},
    {"mom", "mother"}, {"move", "travel"}, {"mum", "mother"}, {"mum", "parent"}, {"need", "requir"}, {"ocean", "sea"},
    {"older", "old"}, {"onlin", "internet"}, {"owe", "debt"}, {"pensioner", "old"}, {"pick", "choos"},
    {"pick", "select"}, {"plenti", "mani"}, {"pricey", "expens"}, {"quick", "fast"}, {"quick", "rapid"},
    {"quicker", "soon"}, {"quicker", "sooner"}, {"rapid", "fast"}, {"remain", "stay"}, {"requir", "need"},
    {"rotat", "spin"}, {"rotat", "turn"}, {"rubbish", "wast"}, {"scarcely", "hardly"}, {"scarcely", "littl"},
    {"select", "choos"}, {"shut", "close"}, {"snap", "break"}, {"soak", "wet"}, {"soon", "earli"}, {"spin", "rotat"},
    {"spin", "turn"}, {"spoil", "harm"}, {"staff", "worker"}, {"start", "begin"}, {"stay", "remain"},
    {"stone", "rock"}, {"store", "shop"}, {"straightaway", "immedi"}, {"stream", "river"}, {"street", "road"},
    {"stripe", "band"}, {"sunlight", "light"}, {"sunlight", "sun"}, {"sunni", "sun"}, {"sunshin", "light"},
    {"sunshin", "sun"}, {"swallow", "eat"}, {"swap", "replac"}, {"sweep", "carri"}, {"teenag", "young"},
    {"travel", "move"}, {"turn", "rotat"}, {"turn", "spin"}, {"unchang", "same"}, {"vari", "chang"},
    {"vari", "differ"}, {"wash", "carri"}, {"watch", "observ"}, {"web", "internet"}, {"websit", "internet"},
    {"wet", "damp"}, {"worker", "employe"}, {"worker", "staff"}, {"youngster", "young"},
};

static int by_both(const void *key, const void *entry)
{
    const struct synonym *one = key, *other = entry;
    int order = strcmp(one->written, other->written);
    return order ? order : strcmp(one->wanted, other->wanted);
}

bool lexicon_says(const char *written, const char *wanted)
{
    struct synonym key = {written, wanted};
    return bsearch(&key, synonyms, sizeof synonyms / sizeof *synonyms, sizeof *synonyms, by_both) != NULL;
}

/* ---- Thinner, thin, thinly ----------------------------------------------------------------------- */

static const char *const qualities[] = {
    "brief", "bright", "broad", "calm", "cheap", "clean", "clear", "close", "cold", "cool", "dear", "deep", "dense", "dirty", "dry",
    "easy", "fast", "fine", "firm", "fresh", "gentle", "hard", "heavy", "high", "hot", "large", "late", "light", "long", "loud",
    "low", "narrow", "near", "old", "poor", "quick", "quiet", "rapid", "rich", "rough", "safe", "salty", "shallow", "sharp",
    "short", "slow", "small", "smooth", "soft", "soon", "steep", "strong", "tall", "thick", "thin", "tight", "warm", "weak",
    "wet", "wide", "young",
};

/* Does the word end like the quality's comparative or adverb? */
static bool is_form_of(const char *word, const char *quality)
{
    size_t length = strlen(quality), shared = 0;
    while (word[shared] && word[shared] == quality[shared])
        shared++;
    const char *rest = word + shared;
    if (shared == length)
        return strcmp(rest, "er") == 0 || strcmp(rest, "ly") == 0 || strcmp(rest, "r") == 0
            || (rest[0] == quality[length - 1] && strcmp(rest + 1, "er") == 0);
    return shared + 1 == length
        && ((quality[shared] == 'y' && (strcmp(rest, "ier") == 0 || strcmp(rest, "ily") == 0))
            || (quality[shared] == 'e' && strcmp(rest, "y") == 0));
}

static const char *quality_of(const char *word)
{
    for (size_t i = 0; i < sizeof qualities / sizeof *qualities; i++)
        if (is_form_of(word, qualities[i]))
            return qualities[i];
    return NULL;
}

bool lexicon_same_quality(const char *written, const char *wanted)
{
    const char *one = quality_of(written), *other = quality_of(wanted);
    return one && (strcmp(one, wanted) == 0 || (other && strcmp(one, other) == 0));
}
