#include "answer/lexicon.h"

#include <stddef.h>
#include <stdlib.h>
#include <string.h>

/* Every list is in the order of strcmp: they are searched by halves. */

/* Words that carry no meaning of their own in an answer. */
static const char *const small_words[] = {
    "a", "about", "again", "all", "already", "also", "although", "am", "an", "and", "any", "anything", "are", "as",
    "at", "be", "became", "because", "become", "becomes", "been", "being", "both", "but", "by", "can",
    "consequently", "could", "did", "do", "does", "doing", "done", "due", "e.g", "each", "eg", "etc", "even",
    "every", "everything", "for", "from", "get", "gets", "getting", "given", "got", "had", "has", "have", "having",
    "he", "hence", "her", "here", "him", "his", "how", "however", "i", "i.e", "ie", "if", "in", "into", "is", "it",
    "it's", "its", "itself", "just", "like", "may", "maybe", "me", "mean", "meaning", "means", "might", "must",
    "my", "of", "on", "one", "only", "onto", "or", "other", "others", "our", "out", "owing", "own", "per",
    "perhaps", "quite", "really", "shall", "she", "should", "since", "so", "some", "something", "such", "than",
    "that", "that's", "the", "their", "them", "themselves", "then", "there", "thereby", "therefore", "these",
    "they", "they're", "thing", "this", "those", "though", "thus", "to", "too", "unlike", "upon", "us", "very",
    "via", "was", "we", "were", "what", "when", "where", "whereas", "whether", "which", "while", "who", "whom",
    "whose", "why", "will", "with", "would", "you", "your",
};

/* Where a "not" ends to hold. */
static const char *const clause_openers[] = {
    "although", "as", "because", "but", "consequently", "hence", "however", "if", "since", "so", "therefore",
    "though", "thus", "unless", "until", "when", "where", "whereas", "whether", "which", "while", "who",
};

/* Beside every word that ends in n't. "instead" and "rather" stand for "instead of" and "rather than". */
static const char *const negators[] = {
    "absence", "arent", "barely", "cannot", "cant", "couldnt", "didnt", "doesnt", "dont", "fail", "failed", "failing",
    "fails", "hardly", "hasnt", "havent", "instead", "isnt", "lack", "lacking", "lacks", "neither", "never", "no",
    "nobody", "none", "nor", "not", "nothing", "nowhere", "rarely", "rather", "scarcely", "shouldnt", "unable",
    "wasnt", "werent", "without", "wont", "wouldnt",
};

/* What joins a fact to its reason or its result. */
static const char *const links[] = {
    "allow", "allowed", "allowing", "allows", "because", "cause", "caused", "causes", "causing", "consequently",
    "due", "enable", "enabled", "enables", "enabling", "ensures", "ensuring", "hence", "lead", "leading", "leads",
    "led", "makes", "making", "mean", "meaning", "means", "meant", "owing", "preventing", "prevents", "reason",
    "reasons", "resulting", "results", "since", "so", "thereby", "therefore", "thus", "why",
};

/* What sets one thing against another, beside forms in -er. */
static const char *const comparers[] = {
    "alike", "although", "both", "but", "compared", "contrast", "differ", "difference", "different", "differs",
    "equally", "fewer", "however", "instead", "least", "less", "likewise", "more", "most", "same", "similar",
    "similarly", "than", "though", "twice", "unlike", "whereas", "while", "whilst",
};

/* Stems. */
static const char *const stems_up[] = {
    "acceler", "bigger", "boost", "brighter", "deepen", "deeper", "denser", "doubl", "enlarg", "exceed", "expand",
    "extra", "faster", "fastest", "gain", "greater", "greatest", "grow", "growth", "harder", "heavier", "higher",
    "highest", "hotter", "increas", "larger", "largest", "lengthen", "longer", "longest", "more", "multipli",
    "quicker", "rais", "rise", "rougher", "saltier", "steeper", "strengthen", "stronger", "strongest", "taller",
    "thicker", "tripl", "upward", "warmer", "widen", "wider",
};

/* Stems. */
static const char *const stems_down[] = {
    "avoid", "calmer", "colder", "cooler", "deceler", "declin", "decreas", "diminish", "downward", "drop", "fall",
    "fewer", "gentler", "halv", "less", "lessen", "lighter", "lower", "lowest", "prevent", "reduc", "reduct",
    "shorten", "shorter", "shortest", "shrink", "slower", "slowest", "smaller", "smallest", "smoother", "softer",
    "stop", "thinner", "weaken", "weaker", "weakest",
};

/* Words of five letters and more that a student may well mean, near to other words of this length: none of them is
 * read as a slip in another word. */
static const char *const known_words[] = {
    "abiotic", "ablation", "about", "above", "absorb", "absorbed", "absorbs", "absorption", "accept", "across",
    "action", "actual", "adapt", "adapted", "adopt", "adopted", "adsorb", "adsorbed", "adsorbs", "adsorption",
    "advice", "advise", "affect", "affected", "affects", "after", "again", "against", "agree", "ahead", "algae",
    "alkali", "alkane", "alkanes", "alkene", "alkenes", "alkyl", "alkyne", "allow", "alone", "along", "amide",
    "amine", "amino", "among", "amount", "angle", "angler", "anion", "ankle", "anode", "another", "answer",
    "anther", "appear", "apply", "area", "areas", "argue", "arise", "around", "atom", "atoms", "average", "aware",
    "beach", "beaches", "because", "become", "before", "begin", "behind", "being", "below", "bench", "beneath",
    "beside", "better", "between", "beyond", "biased", "biotic", "bitter", "bleach", "board", "boat", "boats",
    "bolt", "bonding", "bonds", "bottom", "bound", "bounds", "brake", "brakes", "branch", "breach", "bread",
    "break", "breaks", "breath", "breathe", "breed", "brine", "bring", "broad", "broken", "brought", "brown",
    "build", "built", "calcium", "called", "canal", "carbon", "carbonate", "careful", "carry", "case", "cases",
    "catch", "cathode", "cation", "caused", "causes", "cell", "cells", "certain", "chance", "change", "changes",
    "charge", "charged", "charger", "check", "chlorate", "chloride", "chlorine", "choose", "chose", "chosen",
    "claim", "class", "clean", "clear", "cliff", "cliffs", "close", "closed", "closer", "cloud", "coarse", "coast",
    "coasts", "cold", "collect", "colour", "come", "comes", "common", "complement", "complete", "compliment",
    "concave", "condense", "conduct", "conduction", "conserve", "contain", "content", "control", "convection",
    "converse", "convex", "cool", "coral", "corals", "core", "corral", "cost", "costs", "count", "country",
    "course", "cover", "covered", "create", "creature", "crest", "cross", "crust", "crusts", "currant", "current",
    "cycle", "daily", "damage", "danger", "dense", "density", "deposit", "deposition", "desert", "dessert",
    "detail", "device", "devise", "diffuse", "diffusion", "direct", "disease", "dissolve", "distance", "divide",
    "during", "early", "earth", "easily", "east", "eaten", "ebbing", "effect", "effects", "effusion", "either",
    "electric", "electron", "electronic", "electrons", "element", "emerge", "emersion", "emigrate", "emigration",
    "emission", "emit", "empty", "energy", "enough", "ensure", "enter", "entire", "equal", "erode", "erosion",
    "eruption", "especially", "ethanal", "ethane", "ethanol", "ethene", "ether", "ethyne", "evaporate", "even",
    "event", "every", "evolve", "exact", "example", "except", "exist", "expand", "expect", "explain", "export",
    "extend", "extent", "extinct", "extract", "extreme", "factor", "factory", "faeces", "false", "family", "famous",
    "faster", "father", "fault", "favour", "feature", "fetal", "fever", "field", "fight", "final", "finally",
    "finds", "firm", "first", "fission", "fixed", "flash", "flesh", "float", "flood", "floor", "flour", "flower",
    "flows", "fluid", "follow", "food", "force", "forces", "forest", "forget", "form", "formal", "formation",
    "formed", "former", "formulation", "found", "fraction", "fresh", "friction", "front", "frost", "frozen",
    "fructose", "fungus", "further", "fusion", "future", "gamete", "gametes", "genes", "gentle", "genus", "geyser",
    "given", "glacier", "glass", "glucagon", "glucose", "glycogen", "grain", "grains", "grass", "grate", "great",
    "green", "ground", "group", "groups", "grow", "grown", "growth", "guess", "habit", "habitat", "habits",
    "happen", "hardly", "harsh", "hazard", "health", "heart", "heat", "heats", "heavy", "height", "heights", "held",
    "hence", "herbs", "hertz", "hidden", "highly", "horse", "house", "houses", "human", "humid", "hundred",
    "hydrate", "hydride", "hydroxide", "hyper", "hyperbole", "hypertonic", "hypotonic", "immerse", "immersion",
    "immigrate", "immigration", "impact", "import", "include", "increase", "indicate", "inert", "inertia", "infect",
    "inject", "insect", "inside", "insolation", "inspect", "insulate", "insulation", "intense", "inter", "interest",
    "intra", "irruption", "island", "isolate", "isomer", "isotope", "joint", "joule", "judge", "keeps", "known",
    "large", "later", "lather", "latter", "lattice", "layer", "layers", "leach", "leads", "leave", "leaves",
    "leech", "length", "lengths", "lesser", "letter", "level", "levels", "lever", "liable", "light", "lights",
    "limit", "limits", "linear", "liner", "lipid", "liquid", "litre", "little", "living", "local", "locate",
    "longer", "loose", "lose", "loser", "losses", "lower", "lowest", "lunar", "lungs", "magma", "magnesium",
    "magnet", "maintain", "major", "manganese", "manner", "marine", "mass", "masses", "matter", "matters", "maybe",
    "means", "meant", "measure", "meiosis", "member", "metal", "metals", "meter", "methane", "methene", "method",
    "metre", "metres", "middle", "might", "miles", "mineral", "minor", "minute", "minutes", "mitosis", "mixed",
    "model", "modern", "molar", "molecule", "moment", "monthly", "moral", "more", "mother", "motion", "mound",
    "mount", "mouth", "moved", "moves", "moving", "mucous", "mucus", "muscle", "muscles", "mussel", "mussels",
    "mutual", "naive", "named", "narrow", "nation", "native", "natural", "nature", "nearby", "nearly", "needs",
    "never", "newly", "niche", "night", "nitrate", "nitrates", "nitride", "nitrite", "nitrites", "nitrogen",
    "noble", "noise", "normal", "north", "noted", "notice", "number", "nutrient", "object", "obtain", "occur",
    "ocean", "often", "older", "omission", "open", "order", "orders", "ordinary", "organ", "organic", "organise",
    "organism", "organs", "origin", "other", "others", "outer", "outside", "overall", "oxide", "oxides", "oxygen",
    "ozone", "paper", "parasite", "part", "parts", "party", "passed", "patch", "peace", "peak", "period", "permit",
    "phase", "phosphate", "phosphite", "photon", "piece", "place", "places", "plain", "plane", "planet", "plans",
    "plant", "plants", "plate", "plates", "point", "points", "polar", "poles", "pollen", "poor", "pores", "porous",
    "position", "possible", "pound", "power", "powers", "praise", "prays", "precede", "precise", "predate",
    "presence", "present", "pressure", "prevent", "prey", "price", "principal", "principle", "probe", "process",
    "produce", "product", "profit", "proper", "protect", "protein", "proteins", "proton", "protons", "prove",
    "proved", "provide", "puddle", "pulse", "pupil", "purple", "quality", "quantity", "quarter", "quick", "quickly",
    "quiet", "quite", "radiate", "radical", "radio", "radius", "raise", "raised", "range", "rapid", "rather",
    "ratio", "ration", "reach", "reactant", "reaction", "reason", "receive", "recent", "record", "reduce", "refer",
    "reflect", "reflection", "refract", "refraction", "region", "relate", "relay", "release", "remain", "remove",
    "repeat", "replace", "report", "require", "resist", "respiration", "respire", "respond", "rest", "result",
    "return", "reverse", "right", "rise", "risen", "rises", "river", "rivers", "roads", "rocks", "rocky", "roots",
    "rough", "round", "route", "routes", "safely", "saline", "salinity", "salts", "sample", "sands", "sandy",
    "satellite", "scale", "scene", "scope", "season", "seats", "second", "seconds", "section", "seeds", "seems",
    "sense", "series", "serve", "seven", "several", "severe", "shade", "shadow", "shake", "shallow", "shape",
    "shapes", "share", "shear", "sheer", "sheet", "shelf", "shell", "shells", "shelter", "shift", "shine", "shore",
    "shores", "short", "shown", "shows", "sides", "sight", "silicon", "silicone", "simple", "since", "single",
    "sixty", "skill", "slack", "sleep", "slide", "slight", "slope", "slopes", "slower", "small", "smell", "smooth",
    "snail", "snails", "social", "sodium", "solar", "solid", "solute", "solution", "solve", "solvent", "sound",
    "south", "space", "spare", "spatial", "special", "species", "specific", "speck", "spend", "spent", "spine",
    "spins", "spiral", "splash", "split", "spore", "spread", "spring", "stable", "stack", "stage", "stages",
    "stain", "stalk", "stand", "starch", "start", "state", "static", "stationary", "stationery", "stays", "steam",
    "steel", "steep", "steeper", "still", "stone", "stones", "stops", "store", "storm", "storms", "story",
    "straight", "strain", "strand", "strange", "stream", "streams", "stress", "strip", "stripe", "strong", "struck",
    "study", "style", "substance", "subtract", "sucrose", "sugar", "suits", "sulfate", "sulfide", "sulfite",
    "sulfur", "sulphate", "sulphide", "sulphite", "sulphur", "summer", "supply", "support", "surface", "surfaces",
    "survey", "survive", "swamp", "sweet", "swell", "swept", "swing", "system", "table", "taken", "takes", "taste",
    "teach", "tempt", "tends", "tense", "tension", "terms", "tests", "their", "there", "these", "thiamine", "thick",
    "thing", "things", "think", "third", "those", "though", "thought", "thousand", "thread", "threat", "three",
    "threw", "through", "throw", "thrown", "thymine", "thyroid", "tidal", "tides", "tight", "times", "tiny",
    "tissue", "title", "today", "together", "total", "touch", "tough", "tower", "towns", "toxic", "toxin", "trace",
    "track", "trade", "trail", "train", "transcription", "transect", "transfer", "transform", "translation",
    "translocation", "transmit", "transpiration", "transpire", "trapped", "travel", "treat", "trees", "trend",
    "trial", "tried", "troop", "troph", "trophic", "tropic", "tropical", "trough", "true", "trust", "truth",
    "tubes", "turbine", "turns", "twice", "typed", "types", "typical", "under", "unify", "union", "unit", "unite",
    "units", "until", "upper", "upset", "urea", "ureter", "urethra", "uric", "useful", "usual", "usually",
    "vacuole", "vacuum", "valley", "value", "valued", "values", "vapor", "vapour", "varied", "variety", "various",
    "vector", "venom", "vertical", "vessel", "video", "virus", "visible", "vital", "voice", "volume", "wages",
    "waist", "waste", "watch", "water", "waters", "waved", "waver", "waves", "wears", "weary", "weather", "weigh",
    "weight", "weights", "weird", "whale", "whales", "wheel", "where", "whether", "which", "while", "whole",
    "whose", "wider", "width", "widths", "winds", "windy", "winter", "within", "without", "woman", "women",
    "wonder", "woods", "words", "world", "worry", "worse", "worst", "worth", "would", "write", "wrong", "years",
    "yield", "young", "zonal", "zones",
};

/* final: two terms that the stemmer would make one (organ, organic), or one that it would make two. */
struct irregular {
    const char *word, *base;
    bool final;
};

static const struct irregular irregulars[] = {
    {"afterwards", "after", false}, {"algae", "alga", false}, {"ate", "eat", false}, {"atomic", "atomic", true},
    {"aug", "august", false}, {"backwards", "backward", false}, {"bacterium", "bacteria", false},
    {"barely", "barely", true}, {"began", "begin", false}, {"begun", "begin", false}, {"behaviour", "behavior", false},
    {"bitten", "bite", false}, {"blew", "blow", false}, {"blown", "blow", false}, {"bought", "buy", false},
    {"broke", "break", false}, {"broken", "break", false}, {"brought", "bring", false}, {"built", "build", false},
    {"buses", "bus", false}, {"came", "come", false}, {"carried", "carry", false}, {"caught", "catch", false},
    {"children", "child", false}, {"chose", "choose", false}, {"chosen", "choose", false}, {"colour", "color", false},
    {"communicate", "communicate", true}, {"communication", "communicate", true}, {"communities", "community", true},
    {"community", "community", true}, {"dead", "die", false}, {"death", "die", false}, {"deaths", "die", false},
    {"dec", "december", false}, {"downwards", "downward", false}, {"drawn", "draw", false}, {"drew", "draw", false},
    {"dried", "dry", false}, {"drier", "dry", false}, {"dries", "dry", false}, {"driven", "drive", false},
    {"drove", "drive", false}, {"dryer", "dry", false}, {"drying", "dry", false}, {"dryness", "dry", false},
    {"dying", "die", false}, {"eaten", "eat", false}, {"electronic", "electronic", true},
    {"electronics", "electronic", true}, {"evaporating", "evaporation", false}, {"experience", "experience", true},
    {"experiment", "experiment", true}, {"factor", "factor", true}, {"factories", "factory", true},
    {"factors", "factor", true}, {"factory", "factory", true}, {"fallen", "fall", false}, {"feb", "february", false},
    {"fed", "feed", false}, {"fell", "fall", false}, {"fibre", "fiber", false}, {"flowed", "flow", false},
    {"forwards", "forward", false}, {"found", "find", false}, {"freezing", "freeze", false},
    {"froze", "freeze", false}, {"frozen", "freeze", false}, {"fungi", "fungus", false}, {"gases", "gas", false},
    {"gave", "give", false}, {"general", "general", true}, {"generally", "general", true},
    {"generator", "generator", true}, {"generators", "generator", true}, {"got", "get", false},
    {"grew", "grow", false}, {"grown", "grow", false}, {"harbour", "harbor", false}, {"hard", "hard", true},
    {"hardly", "hardly", true}, {"held", "hold", false}, {"hid", "hide", false}, {"hidden", "hide", false},
    {"hitting", "hit", false}, {"import", "import", true}, {"importance", "important", true},
    {"important", "important", true}, {"imports", "import", true}, {"inorganic", "inorganic", true},
    {"interest", "interest", true}, {"inwards", "inward", false}, {"ionic", "ionic", true}, {"jan", "january", false},
    {"kept", "keep", false}, {"lain", "lie", false}, {"larvae", "larva", false}, {"late", "late", true},
    {"lately", "lately", true}, {"lent", "lend", false}, {"like", "like", true}, {"likely", "likely", true},
    {"litre", "liter", false}, {"litres", "liter", false}, {"loss", "lose", false}, {"losses", "lose", false},
    {"lost", "lose", false}, {"lower", "lower", true}, {"lowered", "lower", true}, {"lowering", "lower", true},
    {"lowers", "lower", true}, {"made", "make", false}, {"mate", "mate", true}, {"material", "material", true},
    {"materials", "material", true}, {"mates", "mate", true}, {"mating", "mate", true}, {"men", "man", false},
    {"metallic", "metallic", true}, {"metre", "meter", false}, {"metres", "meter", false}, {"moving", "move", false},
    {"nation", "nation", true}, {"native", "native", true}, {"natural", "natural", true}, {"nature", "nature", true},
    {"neighbour", "neighbor", false}, {"news", "news", true}, {"nov", "november", false}, {"nuclei", "nucleus", false},
    {"oct", "october", false}, {"organ", "organ", true}, {"organic", "organic", true}, {"organics", "organic", true},
    {"organisation", "organise", true}, {"organise", "organise", true}, {"organised", "organise", true},
    {"organization", "organise", true}, {"organize", "organise", true}, {"organized", "organise", true},
    {"organs", "organ", true}, {"outwards", "outward", false}, {"paid", "pay", false}, {"past", "past", true},
    {"paste", "paste", true}, {"photosynthesise", "photosynthesis", false},
    {"photosynthesised", "photosynthesis", false}, {"photosynthesises", "photosynthesis", false},
    {"photosynthesising", "photosynthesis", false}, {"photosynthesize", "photosynthesis", false},
    {"photosynthesized", "photosynthesis", false}, {"photosynthesizes", "photosynthesis", false},
    {"photosynthesizing", "photosynthesis", false}, {"photosynthetic", "photosynthesis", false},
    {"plan", "plan", true}, {"plane", "plane", true}, {"planes", "plane", true}, {"planet", "planet", true},
    {"planets", "planet", true}, {"plans", "plan", true}, {"polar", "polar", true}, {"pole", "pole", true},
    {"poles", "pole", true}, {"popular", "popular", true}, {"population", "population", true},
    {"position", "position", true}, {"positive", "positive", true}, {"ran", "run", false}, {"rang", "ring", false},
    {"relation", "relation", true}, {"relative", "relative", true}, {"relatively", "relative", true},
    {"risen", "rise", false}, {"rose", "rise", false}, {"sank", "sink", false}, {"scarcely", "scarcely", true},
    {"secret", "secret", true}, {"secrete", "secrete", true}, {"secretion", "secrete", true}, {"sent", "send", false},
    {"sep", "september", false}, {"sept", "september", false}, {"several", "several", true},
    {"severe", "severe", true}, {"severely", "severe", true}, {"shaken", "shake", false}, {"short", "short", true},
    {"shortly", "shortly", true}, {"shrank", "shrink", false}, {"shrunk", "shrink", false}, {"slept", "sleep", false},
    {"slid", "slide", false}, {"sold", "sell", false}, {"species", "species", true}, {"specific", "specific", true},
    {"specifically", "specific", true}, {"spent", "spend", false}, {"spreading", "spread", false},
    {"static", "static", true}, {"station", "station", true}, {"stationary", "stationary", true},
    {"stomata", "stoma", false}, {"stuck", "stick", false}, {"sulphate", "sulfate", false},
    {"sulphide", "sulfide", false}, {"sulphite", "sulfite", false}, {"sulphur", "sulfur", false},
    {"sunk", "sink", false}, {"swept", "sweep", false}, {"taken", "take", false}, {"threw", "throw", false},
    {"thrown", "throw", false}, {"tidal", "tide", true}, {"tide", "tide", true}, {"tides", "tide", true},
    {"took", "take", false}, {"universal", "universal", true}, {"universe", "universe", true},
    {"universes", "universe", true}, {"universities", "university", true}, {"university", "university", true},
    {"upwards", "upward", false}, {"vapour", "vapor", false}, {"went", "go", false}, {"women", "woman", false},
    {"wore", "wear", false}, {"worn", "wear", false}, {"written", "write", false}, {"wrote", "write", false},
};

#define HOLDS(list, word) holds(list, sizeof(list) / sizeof *(list), word)

static int by_text(const void *word, const void *entry)
{
    return strcmp(word, *(const char *const *)entry);
}

static bool holds(const char *const *list, size_t count, const char *word)
{
    return bsearch(word, list, count, sizeof *list, by_text) != NULL;
}

bool lexicon_small(const char *word)
{
    return HOLDS(small_words, word);
}

bool lexicon_known(const char *word)
{
    return HOLDS(known_words, word) || HOLDS(small_words, word);
}

bool lexicon_opens_clause(const char *word)
{
    return HOLDS(clause_openers, word);
}

bool lexicon_negates(const char *word)
{
    size_t length = strlen(word);
    return (length > 3 && strcmp(word + length - 3, "n't") == 0) || HOLDS(negators, word);
}

bool lexicon_links(const char *word)
{
    return HOLDS(links, word);
}

bool lexicon_compares(const char *word)
{
    return HOLDS(comparers, word);
}

bool lexicon_up(const char *stem)
{
    return HOLDS(stems_up, stem);
}

bool lexicon_down(const char *stem)
{
    return HOLDS(stems_down, stem);
}

static int by_word(const void *word, const void *entry)
{
    return strcmp(word, ((const struct irregular *)entry)->word);
}

const char *lexicon_irregular(const char *word, bool *final)
{
    const struct irregular *found = bsearch(word, irregulars, sizeof irregulars / sizeof *irregulars,
                                            sizeof *irregulars, by_word);
    *final = found && found->final;
    return found ? found->base : NULL;
}
