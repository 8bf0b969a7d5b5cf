/* Pictures inside HTML, as data: addresses: a page needs nothing beside it. */
#ifndef OWNMARK_REPORT_PICTURE_H
#define OWNMARK_REPORT_PICTURE_H

#include <stdbool.h>
#include "base/buffer.h"

/* An <img> with the file (SVG, PNG or JPEG) from beneath the folder; `words` stand for it (NULL: none). A drawing that says no
 * width of its own is shown `scale` times the size of its view box. As an image it can neither run scripts nor fetch anything.
 * False, and nothing added, when the file is not there, leads out of the folder, is larger than 2 MiB or no such picture. */
bool html_add_picture(struct buffer *out, const char *folder, const char *file, const char *words, double scale);

#endif
