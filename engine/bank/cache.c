#include "bank/cache.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bank/bank.h"
#include "bank/schema.h"
#include "base/hash.h"
#include "base/memory.h"
#include "base/text.h"

/* The file is a header, the questions, their parts, then the ids (each question's own, then its
 * enemies', then those of its ideas, each with its NUL) and the course's text. Fixed records of this machine's own layout:
 * a file of another layout has another `layout` and is passed over. */
struct header {
    char magic[8];
    uint32_t layout, reserved;
    uint64_t check_sum;                 /* of everything behind this member */
    uint64_t schema;                    /* hash of the schema the bank was found valid against */
    struct file_state state;
    uint64_t question_count, part_count, ids_length, course_length;
    char id[68];
    char language[36];
};

struct question_record {
    uint64_t offset, length, fingerprint, line, column;
    double minutes;
    int32_t topic, demand, marks;
    uint32_t part_count;
    uint32_t varied, has_numbers, enemy_count, idea_count;
};

struct part_record {
    uint64_t skills;
    int32_t objective, word, marks, reserved;
};

enum { LAYOUT = 5, CACHE_LIMIT = 128 * 1024 * 1024 };
static const char magic[8] = "ownmark";

/* Eight bytes at a time: the file is read before the first prompt, and a byte at a time would be most of that. */
static uint64_t check_sum(const char *bytes, size_t length)
{
    const uint64_t prime = UINT64_C(0x9E3779B97F4A7C15);
    uint64_t sum = length * prime, word = 0;
    size_t at = 0;
    for (; length - at >= sizeof word; at += sizeof word) {
        memcpy(&word, bytes + at, sizeof word);
        sum = (sum ^ word) * prime;
        sum ^= sum >> 32;
    }
    return hash_bytes(sum, bytes + at, length - at);
}

static uint64_t schema_hash(void)
{
    return hash_bytes(LAYOUT, schema_text(), strlen(schema_text()));
}

static char *cache_path(const char *real_path)
{
    struct messages silent = MESSAGES_EMPTY;
    char hash[33], name[64];
    hash_content(real_path, strlen(real_path), hash);
    snprintf(name, sizeof name, "banks/%s", hash);
    char *path = path_in_cache(name, &silent);
    messages_free(&silent);
    return path;
}

/* ---- Reading ---- */

struct cached_bytes {
    const char *at;
    size_t left;
};

/* Enough is there: the lengths were compared with the size of the file before. */
static void take(struct cached_bytes *bytes, void *to, size_t length)
{
    assert(bytes->left >= length);
    memcpy(to, bytes->at, length);
    bytes->at += length;
    bytes->left -= length;
}

static bool add_up(const struct header *header, size_t length)
{
    if (header->question_count == 0 || header->question_count > BANK_QUESTION_LIMIT || header->part_count > length ||
        header->ids_length > length || header->course_length > length)
        return false;
    uint64_t sum = sizeof *header + header->question_count * sizeof(struct question_record) +
                   header->part_count * sizeof(struct part_record) + header->ids_length + header->course_length;
    return sum == length;
}

static bool is_header_good(const struct header *header, const char *bytes, size_t length,
                           const struct file_state *state)
{
    const size_t summed = offsetof(struct header, schema);
    return memcmp(header->magic, magic, sizeof magic) == 0 && header->layout == LAYOUT && header->reserved == 0 &&
           memcmp(&header->state, state, sizeof *state) == 0 && header->schema == schema_hash() &&
           add_up(header, length) && memchr(header->id, '\0', 65) && memchr(header->language, '\0', sizeof header->language) &&
           header->check_sum == check_sum(bytes + summed, length - summed);
}

static bool is_question_good(const struct question_record *record, uint64_t from, uint64_t size, size_t parts_left)
{
    return record->offset >= from && record->offset <= size && record->length > 0 &&
           record->length <= size - record->offset && record->part_count > 0 && record->part_count <= parts_left &&
           record->demand >= DEMAND_LOW && record->demand <= DEMAND_HIGH && record->marks > 0 &&
           isfinite(record->minutes) && record->minutes > 0 && record->line > 0 && record->column > 0;
}

/* The next id, or NULL; the ids move on. */
static const char *take_id(struct cached_bytes *ids)
{
    const char *id = ids->at, *end = memchr(id, '\0', ids->left);
    if (!end || !text_is_id(id, (size_t)(end - id)))
        return NULL;
    ids->left -= (size_t)(end + 1 - id);
    ids->at = end + 1;
    return id;
}

/* more: the ids of its enemies, then those of its ideas. */
static bool add_question(const struct question_record *record, const struct part_summary *parts, const char *id,
                         const char *const *more, struct index *index)
{
    struct question_summary summary = {
        .id = id, .topic = record->topic, .demand = (enum demand)record->demand, .marks = record->marks,
        .minutes = record->minutes, .varied = record->varied != 0, .has_numbers = record->has_numbers != 0,
        .part_count = record->part_count, .offset = record->offset, .length = record->length,
        .fingerprint = record->fingerprint, .enemies = more, .enemy_count = record->enemy_count,
        .ideas = more + record->enemy_count, .idea_count = record->idea_count,
    };
    return index_add(index, &summary, parts, (struct question_place){record->line, record->column});
}

static bool read_question(const struct question_record *record, const struct part_summary *parts,
                          struct cached_bytes *ids, struct index *index)
{
    const char *id = take_id(ids);
    size_t count = (size_t)record->enemy_count + record->idea_count;
    if (!id || count > ids->left)
        return false;
    const char **more = memory_get_zeroed(count, sizeof *more);
    bool good = true;
    for (size_t i = 0; good && i < count; i++)
        good = (more[i] = take_id(ids)) != NULL;
    good = good && add_question(record, parts, id, more, index);
    free(more);
    return good;
}

static struct part_summary *read_parts(const struct header *header, struct cached_bytes *bytes)
{
    struct part_summary *parts = memory_get_zeroed(header->part_count, sizeof *parts);
    for (size_t i = 0; i < header->part_count; i++) {
        struct part_record record;
        take(bytes, &record, sizeof record);
        parts[i] = (struct part_summary){record.objective, record.word, record.marks, record.skills};
    }
    return parts;
}

/* The questions stand in the order of the file, and their ids and parts in the same order. */
static bool read_questions(const struct header *header, struct cached_bytes records, const struct part_summary *parts,
                           struct cached_bytes ids, struct index *index)
{
    uint64_t from = 0;
    size_t part = 0;
    for (size_t i = 0; i < header->question_count; i++) {
        struct question_record record;
        take(&records, &record, sizeof record);
        if (!is_question_good(&record, from, header->state.size, header->part_count - part) ||
            !read_question(&record, parts + part, &ids, index))
            return false;
        part += record.part_count;
        from = record.offset + record.length;
    }
    return part == header->part_count && ids.left == 0;
}

static bool read_bytes(const char *all, size_t length, const struct file_state *state, struct cached_bank *bank,
                       struct index *index)
{
    struct header header;
    if (length < sizeof header)
        return false;
    memcpy(&header, all, sizeof header);
    if (!is_header_good(&header, all, length, state))
        return false;
    struct cached_bytes records = {all + sizeof header, header.question_count * sizeof(struct question_record)};
    struct cached_bytes rest = {records.at + records.left, header.part_count * sizeof(struct part_record)};
    struct cached_bytes ids = {rest.at + rest.left, header.ids_length};
    struct part_summary *parts = read_parts(&header, &rest);
    bool good = read_questions(&header, records, parts, ids, index);
    free(parts);
    if (!good)
        return false;
    index_finish(index);
    memcpy(bank->id, header.id, sizeof bank->id);
    memcpy(bank->language, header.language, sizeof bank->language);
    buffer_add_bytes(&bank->course_text, ids.at + ids.left, header.course_length);
    return true;
}

bool cache_read(const char *real_path, const struct file_state *state, struct cached_bank *bank, struct index *index)
{
    struct messages silent = MESSAGES_EMPTY;
    struct buffer bytes = BUFFER_EMPTY;
    char *path = cache_path(real_path);
    bool good = path && file_read(path, CACHE_LIMIT, &bytes, &silent) &&
                read_bytes(buffer_text(&bytes), bytes.length, state, bank, index);
    bank->state = *state;
    buffer_free(&bytes);
    messages_free(&silent);
    free(path);
    return good;
}

bool cache_fits_course(const struct index *index, const struct course *course)
{
    uint64_t skills = course->skill_count >= 64 ? UINT64_MAX : (UINT64_C(1) << course->skill_count) - 1;
    for (size_t i = 0; i < index->count; i++) {
        const struct question_summary *summary = &index->summaries[i];
        if (summary->topic < 0 || (size_t)summary->topic >= course->topic_count ||
            !course->topics[summary->topic].is_leaf)
            return false;
    }
    for (size_t i = 0; i < index->part_count; i++) {
        const struct part_summary *part = &index->parts[i];
        if (part->objective < 0 || (size_t)part->objective >= course->objective_count || part->word < 0 ||
            (size_t)part->word >= course->word_count || part->marks < 1 || (part->skills & ~skills))
            return false;
    }
    return true;
}

/* ---- Writing ---- */

static void add_records(struct buffer *out, const struct index *index)
{
    for (size_t i = 0; i < index->count; i++) {
        const struct question_summary *summary = &index->summaries[i];
        struct question_record record = {
            .offset = summary->offset, .length = summary->length, .fingerprint = summary->fingerprint,
            .line = index->places[i].line, .column = index->places[i].column, .minutes = summary->minutes,
            .topic = summary->topic, .demand = (int32_t)summary->demand, .marks = summary->marks,
            .part_count = (uint32_t)summary->part_count, .varied = summary->varied,
            .has_numbers = summary->has_numbers, .enemy_count = (uint32_t)summary->enemy_count,
            .idea_count = (uint32_t)summary->idea_count,
        };
        buffer_add_bytes(out, (const char *)&record, sizeof record);
    }
    for (size_t i = 0; i < index->part_count; i++) {
        const struct part_summary *part = &index->parts[i];
        struct part_record record = {part->skills, part->objective, part->word, part->marks, 0};
        buffer_add_bytes(out, (const char *)&record, sizeof record);
    }
}

static void add_ids(struct buffer *out, const char *const *ids, size_t count)
{
    for (size_t i = 0; i < count; i++)
        buffer_add_bytes(out, ids[i], strlen(ids[i]) + 1);
}

void cache_write(const char *real_path, const struct cached_bank *bank, const struct index *index)
{
    struct header header = {
        .layout = LAYOUT, .schema = schema_hash(), .state = bank->state, .question_count = index->count,
        .part_count = index->part_count, .course_length = bank->course_text.length,
    };
    memcpy(header.magic, magic, sizeof magic);
    memcpy(header.id, bank->id, sizeof bank->id);
    memcpy(header.language, bank->language, sizeof bank->language);
    struct buffer out = BUFFER_EMPTY;
    buffer_add_bytes(&out, (const char *)&header, sizeof header);
    add_records(&out, index);
    size_t before = out.length;
    for (size_t i = 0; i < index->count; i++) {
        const struct question_summary *summary = &index->summaries[i];
        add_ids(&out, &summary->id, 1);
        add_ids(&out, summary->enemies, summary->enemy_count);
        add_ids(&out, summary->ideas, summary->idea_count);
    }
    header.ids_length = out.length - before;
    buffer_add_bytes(&out, buffer_text(&bank->course_text), bank->course_text.length);

    const size_t summed = offsetof(struct header, schema);
    memcpy(out.text, &header, sizeof header);
    header.check_sum = check_sum(out.text + summed, out.length - summed);
    memcpy(out.text, &header, sizeof header);

    struct messages silent = MESSAGES_EMPTY;
    char *path = cache_path(real_path), *folder = path ? path_folder_of(path) : NULL;
    if (path && directory_make(folder, &silent))
        file_write(path, out.text, out.length, 0600, true, &silent);
    messages_free(&silent);
    buffer_free(&out);
    free(folder);
    free(path);
}

void cache_forget(const char *real_path)
{
    char *path = cache_path(real_path);
    if (path)
        unlink(path);
    free(path);
}
