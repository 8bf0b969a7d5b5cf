/* The styles every document carries. Private to this room. */
#ifndef OWNMARK_REPORT_HTML_INNER_H
#define OWNMARK_REPORT_HTML_INNER_H

extern const char html_common_style[];

#endif
