# cmake -DPAGES=a.html;b.html -DSTYLE=sheet.css -DSCRIPT=ride.js -DOUT=built_in.cpp -P embed.cmake: the pages as one C++
# source, each with the style and script it names inside. A page is an ordinary HTML file with {{holes}}; sections, which a browser would show as stray text, stand in
# comments there, <!--{{#name}}-->, and lose them here.
file(READ "${STYLE}" style)
string(REGEX REPLACE "^/\\*[^*]*\\*/\n" "" style "${style}")  # what the file says of itself
file(READ "${SCRIPT}" script)
set(source "#include \"pages/template.hpp\"\n\nnamespace leewheel {\n\n")
foreach(page IN LISTS PAGES)
  file(READ "${page}" text)
  get_filename_component(name "${page}" NAME_WE)
  string(REPLACE "<link rel=\"stylesheet\" href=\"sheet.css\"/>" "<style>\n${style}</style>" text "${text}")
  string(REPLACE "<script src=\"ride.js\"></script>" "<script>\n${script}</script>" text "${text}")
  string(REPLACE "<!--{{" "{{" text "${text}")
  string(REPLACE "}}-->" "}}" text "${text}")
  string(APPEND source "extern const char* const ${name}_template = R\"page(${text})page\";\n\n")
endforeach()
string(APPEND source "}  // namespace leewheel\n")
file(WRITE "${OUT}" "${source}")
