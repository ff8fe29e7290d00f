# cmake -DPAGES=a.html;b.html -DSTYLE=sheet.css -DOUT=built_in.cpp -P embed.cmake: the pages as one C++ source, each with the
# style inside. A page is an ordinary HTML file with {{holes}}; sections, which a browser would show as stray text, stand in
# comments there, <!--{{#name}}-->, and lose them here.
file(READ "${STYLE}" style)
string(REGEX REPLACE "^/\\*[^*]*\\*/\n" "" style "${style}")  # what the file says of itself
set(source "#include \"pages/template.hpp\"\n\nnamespace leewheel {\n\n")
foreach(page IN LISTS PAGES)
  file(READ "${page}" text)
  get_filename_component(name "${page}" NAME_WE)
  string(REPLACE "<link rel=\"stylesheet\" href=\"sheet.css\"/>" "<style>\n${style}</style>" text "${text}")
  string(REPLACE "<!--{{" "{{" text "${text}")
  string(REPLACE "}}-->" "}}" text "${text}")
  string(APPEND source "extern const char* const ${name}_template = R\"page(${text})page\";\n\n")
endforeach()
string(APPEND source "}  // namespace leewheel\n")
file(WRITE "${OUT}" "${source}")
