# Writes OUT, a header with the commit of the source folder ROOT, only when it changes. Outside a checkout the commit is empty.
execute_process(COMMAND git -C ${ROOT} rev-parse --short=10 HEAD OUTPUT_VARIABLE COMMIT OUTPUT_STRIP_TRAILING_WHITESPACE
                ERROR_QUIET RESULT_VARIABLE FAILED)
if(FAILED)
  set(WORDS "")
else()
  set(WORDS " (${COMMIT})")
endif()
file(CONFIGURE OUTPUT ${OUT} CONTENT "#pragma once\n#define LEEWHEEL_COMMIT \"@WORDS@\"\n" @ONLY)
