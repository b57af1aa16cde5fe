# What the builds of packaging/check-memory have besides their sanitizers: headers of libraries read once for a whole
# target, and clazy as clang's plug-in, so that every file is read by it without being parsed a second time.

# clazy's checks by name: those about bugs and wasted work; checks of style are left out.
set(MARKERLAMP_CLAZY_CHECKS
    connect-by-name connect-non-signal connect-not-normalized container-anti-pattern fully-qualified-moc-types
    lambda-in-connect lambda-unique-connection lowercase-qml-type-name mutable-container-key
    qdatetime-utc qenums qfileinfo-exists qgetenv qmap-with-pointer-key qstring-arg
    qt-macros unused-non-trivial-variable wrong-qevent-cast wrong-qglobalstatic auto-unexpected-qstringbuilder
    child-event-qobject-cast connect-3arg-lambda const-signal-or-slot detaching-temporary
    incorrect-emit install-event-filter post-event qdeleteall qlatin1string-non-ascii
    qproperty-without-notify qstring-left range-loop-detach range-loop-reference returning-data-from-temporary
    skipped-base-method virtual-signal virtual-call-ctor)

# markerlamp_checking(TARGET [QT | QT_WIDGETS] [TESTS] [QUICK]): does nothing in an ordinary build.
function(markerlamp_checking target)
    cmake_parse_arguments(PARSE_ARGV 1 has "QT;QT_WIDGETS;TESTS;QUICK" "" "")
    if(MARKERLAMP_PRECOMPILE)
        set(headers <algorithm> <filesystem> <functional> <map> <memory> <optional> <set> <string> <string_view> <vector>)
        if(has_QT OR has_QT_WIDGETS)
            list(APPEND headers <QtCore> <QtGui>)
        endif()
        if(has_QT_WIDGETS)
            list(APPEND headers <QtWidgets>)
        endif()
        if(has_TESTS)
            list(APPEND headers <gtest/gtest.h>)
        endif()
        target_precompile_headers(${target} PRIVATE ${headers})
    endif()
    # Every demo program is made by these: a little of the optimiser makes up for the time that it takes to compile.
    if(MARKERLAMP_PRECOMPILE AND has_QUICK)
        target_compile_options(${target} PRIVATE -O1)
    endif()
    if(MARKERLAMP_CLAZY AND (has_QT OR has_QT_WIDGETS) AND NOT has_TESTS)
        list(JOIN MARKERLAMP_CLAZY_CHECKS "," checks)
        target_compile_options(${target} PRIVATE "SHELL:-Xclang -load -Xclang ClazyPlugin.so" "SHELL:-Xclang -add-plugin -Xclang clazy"
                               "SHELL:-Xclang -plugin-arg-clazy -Xclang ${checks}")
    endif()
endfunction()
