/* What a bank knows of its questions without their text, in few and flat arrays. For this room only. */
#ifndef OWNMARK_BANK_INDEX_H
#define OWNMARK_BANK_INDEX_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/model.h"
#include "bank/names.h"
#include "bank/reader.h"

struct question_place {
    unsigned long line, column;
};

struct index {
    struct arena *arena;                    /* of the ids; not owned */
    struct question_summary *summaries;
    struct question_place *places;
    struct part_summary *parts;             /* those of all questions, in order */
    size_t count, capacity, place_capacity, part_count, part_capacity;
    struct names by_id;
};

struct index index_new(struct arena *arena);
void index_free(struct index *index);

/* The summary's id, enemies and ideas are copied into the arena; its parts (part_count of them) are copied behind those
 * before. False, and nothing added, when the id is there already. */
bool index_add(struct index *index, const struct question_summary *summary, const struct part_summary *parts,
               struct question_place place);

/* Summarises a question and adds it; bytes: the question's, for its fingerprint. */
bool index_add_question(struct index *index, const struct question *question, const struct element_bytes *at,
                        const char *bytes);

/* After the last addition: the arrays no longer move, and each summary gets its parts. */
void index_finish(struct index *index);

uint64_t index_fingerprint(const char *bytes, size_t length);

#endif
