#pragma once
/// Pages filled from HTML files. A {{hole}} takes text, which is made safe for HTML; a {{{hole}}} takes markup as it is;
/// {{#name}} ... {{/name}} stands for each item of a list, once for a value that is there, not at all for false;
/// {{^name}} ... {{/name}} the other way round.

#include <kainjow/mustache.hpp>
#include <string>

namespace leewheel {

using PageData = kainjow::mustache::object;
using PageValue = kainjow::mustache::data;
using PageList = kainjow::mustache::list;

/// The files sheet.html, pocket.html, notes.html, debrief.html and ride.html, with their style inside; built in (embed.cmake).
extern const char* const sheet_template;
extern const char* const pocket_template;
extern const char* const notes_template;
extern const char* const debrief_template;
extern const char* const ride_template;

/// Every hole of the template must be in `data`, empty or false if need be: a missing one is a fault of the program.
std::string filled_page(const char* page_template, const PageData& data);

/// Text that may be missing: false when it is empty, so that a section around it falls away.
inline PageValue if_any(const std::string& text) { return text.empty() ? PageValue(false) : PageValue(text); }

}  // namespace leewheel
