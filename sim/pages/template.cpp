#include "pages/template.hpp"

#include <sstream>
#include <stdexcept>

#include "pages/escape.hpp"

namespace leewheel {

namespace {

namespace mustache = kainjow::mustache;

/// Refuses names that nobody set: the library's own context would leave these holes empty in silence.
class StrictContext : public mustache::context<std::string> {
 public:
  using context::context;
  const PageValue* get(const std::string& name) const override {
    const PageValue* const value = context::get(name);
    if (!value) throw std::logic_error("a page has a hole that nothing fills: " + name);
    return value;
  }
};

}  // namespace

std::string filled_page(const char* page_template, const PageData& data) {
  mustache::mustache page(page_template);
  if (!page.is_valid()) throw std::logic_error("a page cannot be read: " + page.error_message());
  page.set_custom_escape([](const std::string& text) { return html_text(text); });
  const PageValue root(data);
  StrictContext context(&root);
  std::ostringstream text;
  page.render(context, text);
  return text.str();
}

}  // namespace leewheel
