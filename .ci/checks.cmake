# Tests that look at the whole: static checks, the second build's tests, and the two builds side by side.
set(coverage_floor 85)  # percent of libplan's lines
set(second ${PROJECT_SOURCE_DIR}/build/sanitize)
set(profile ${PROJECT_SOURCE_DIR}/build/profile)
set(ci ${PROJECT_SOURCE_DIR}/.ci)

foreach(check include-order headers-alone one-definition format words)
  add_test(NAME check.${check} COMMAND ${ci}/${check})
endforeach()
add_test(NAME check.tidy COMMAND ${ci}/tidy)
set_tests_properties(check.tidy check.headers-alone PROPERTIES TIMEOUT 600 PROCESSORS 2)

# The open data sets measure the optimisers; under the sanitizers they would only measure the machine.
set(measured "")
set(objects "")
foreach(program IN LISTS test_programs)
  if(NOT program STREQUAL reference)
    add_test(NAME sanitized.${program} COMMAND ${second}/bin/${program} --no-intro)
    set_tests_properties(sanitized.${program} PROPERTIES TIMEOUT 900
      ENVIRONMENT LLVM_PROFILE_FILE=${profile}/${program}-%m.profraw ${left_out} "left out: ")
    list(APPEND measured sanitized.${program})
    list(APPEND objects ${second}/bin/${program})
  endif()
endforeach()

if(TARGET withy)
  foreach(scenario_and_codes hamlet:01 village:0)
    string(REPLACE ":" ";" pair ${scenario_and_codes})
    list(GET pair 0 scenario)
    list(GET pair 1 codes)
    if(EXISTS ${PROJECT_SOURCE_DIR}/scenarios/${scenario}.yaml)
      add_test(NAME same-bytes.${scenario} COMMAND ${ci}/same-bytes scenarios/${scenario}.yaml ${codes})
      set_tests_properties(same-bytes.${scenario} PROPERTIES TIMEOUT 600
        ENVIRONMENT LLVM_PROFILE_FILE=${profile}/${scenario}-%m.profraw)
      list(APPEND measured same-bytes.${scenario})
    endif()
  endforeach()
  list(APPEND objects ${second}/bin/withy)
endif()

add_test(NAME check.coverage COMMAND ${ci}/coverage ${coverage_floor} ${objects})
set_tests_properties(check.coverage PROPERTIES DEPENDS "${measured}" TIMEOUT 300)
