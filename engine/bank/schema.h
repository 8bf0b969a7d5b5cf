/* banks/ownmark-bank.xsd, which the program carries inside: compiled, and as the source of what messages say is
 * wanted. For this room only. */
#ifndef OWNMARK_BANK_SCHEMA_H
#define OWNMARK_BANK_SCHEMA_H

#include <stddef.h>
#include "base/arena.h"

#define BANK_NAMESPACE "urn:ownmark:bank:1"

struct _xmlSchema;

/* Compiled at the first call and kept: it does not change and is shared by every parse. Also prepares the XML
 * library: nothing is loaded from anywhere, nothing is printed. */
struct _xmlSchema *schema_compiled(void);

/* The text of the schema. */
const char *schema_text(void);

/* What a simple type wants, from its documentation: "yes or no". NULL when the schema has no such type. The result
 * hangs in arena. */
const char *schema_wanted_by_type(const char *type, size_t length, struct arena *arena);
const char *schema_wanted_by_pattern(const char *pattern, size_t length, struct arena *arena);
const char *schema_wanted_by_attribute(const char *attribute, struct arena *arena);

/* The attribute or element (what: "attribute", "element") whose name is nearest to this one; NULL. In arena. */
const char *schema_nearest(const char *what, const char *name, struct arena *arena);

#endif
