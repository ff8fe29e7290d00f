#include "pages/notes_page.hpp"

#include "pages/template.hpp"
#include "words/cautions.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

namespace {

PageList lines_of(const std::vector<std::string>& lines) {
  PageList list;
  for (const std::string& line : lines) list.push_back(line);
  return list;
}

PageList stretches_of_page(const RoadNotes& notes, const std::vector<Note>& said) {
  PageList list;
  for (std::size_t k = 0; k < notes.stretches.size(); ++k) {
    const RoadStretch& where = notes.stretches[k].where;
    std::string heading = where.from + " to " + where.to;
    PageList sentences;
    for (const Note& note : said) {
      if (note.stretch != k || note.about == NoteAbout::splits) continue;
      if (note.about == NoteAbout::road)
        heading = note.text.substr(0, note.text.size() - 1);
      else
        sentences.push_back(note.text);
    }
    PageList times;
    for (const NotesStrength& s : notes.strengths) times.push_back(clock_text(s.arrive_s[k]));
    list.push_back(PageData{{"heading", heading},
                            {"to", where.to},
                            {"effort", number_text(100.0 * notes.stretches[k].effort_share, 0) + " %"},
                            {"sentences", PageValue(sentences)},
                            {"times", PageValue(times)}});
  }
  return list;
}

}  // namespace

std::string notes_html(const Scenario& scenario, const RoadNotes& notes, const std::vector<Note>& said,
                       const ShownUnits& units) {
  PageList wished;
  for (const NotesStrength& s : notes.strengths) wished.push_back(clock_text(s.wished_s));
  return filled_page(notes_template, {{"title", scenario.title},
                                      {"before", PageValue(lines_of(notes_before(scenario, notes, units)))},
                                      {"wished", PageValue(wished)},
                                      {"stretches", PageValue(stretches_of_page(notes, said))},
                                      {"after", PageValue(lines_of(notes_after(notes)))},
                                      {"cautions", planning_cautions}});
}

}  // namespace leewheel
