<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="en_US" sourcelanguage="en_US">
<context>
    <name>markerlamp::app::AgreementPage</name>
    <message numerus="yes">
        <source>%n still open</source>
        <translation>
            <numerusform>%n still open</numerusform>
            <numerusform>%n still open</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n step(s) that both observed</source>
        <translation>
            <numerusform>%n step that both observed</numerusform>
            <numerusform>%n steps that both observed</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n pair(s) of scorings</source>
        <translation>
            <numerusform>%n pair of scorings</numerusform>
            <numerusform>%n pairs of scorings</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Settled, %n left open; both scorings stay as they are</source>
        <translation>
            <numerusform>Settled, %n left open; both scorings stay as they are</numerusform>
            <numerusform>Settled, %n left open; both scorings stay as they are</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n row(s) copied</source>
        <translation>
            <numerusform>%n row copied</numerusform>
            <numerusform>%n rows copied</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n still open, not settled</source>
        <translation>
            <numerusform>%n still open, not settled</numerusform>
            <numerusform>%n still open, not settled</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>AgreementText</name>
    <message numerus="yes">
        <source>%1 of %n step(s)</source>
        <translation>
            <numerusform>%1 of %n step</numerusform>
            <numerusform>%1 of %n steps</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>, and %n that one did not observe</source>
        <translation>
            <numerusform>, and %n that one did not observe</numerusform>
            <numerusform>, and %n that one did not observe</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>95 % interval: %n attempt(s) resampled.</source>
        <translation>
            <numerusform>95 % interval: %n attempt resampled.</numerusform>
            <numerusform>95 % interval: %n attempts resampled.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>clocks alike over %n step(s)</source>
        <translation>
            <numerusform>clocks alike over %n step</numerusform>
            <numerusform>clocks alike over %n steps</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>clock of %1 %2 s later, over %n step(s)</source>
        <translation>
            <numerusform>clock of %1 %2 s later, over %n step</numerusform>
            <numerusform>clock of %1 %2 s later, over %n steps</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>clock of %1 %2 s earlier, over %n step(s)</source>
        <translation>
            <numerusform>clock of %1 %2 s earlier, over %n step</numerusform>
            <numerusform>clock of %1 %2 s earlier, over %n steps</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::AmendDialog</name>
    <message numerus="yes">
        <source>%n step(s) will change.</source>
        <translation>
            <numerusform>%n step will change.</numerusform>
            <numerusform>%n steps will change.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::BoardPart</name>
    <message numerus="yes">
        <source>%n must pass</source>
        <translation>
            <numerusform>%n must pass</numerusform>
            <numerusform>%n must pass</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::BringBackDialog</name>
    <message numerus="yes">
        <source>Restored: %n attempt(s)</source>
        <translation>
            <numerusform>Restored: %n attempt</numerusform>
            <numerusform>Restored: %n attempts</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::CompactPart</name>
    <message numerus="yes">
        <source>%n dark</source>
        <translation>
            <numerusform>%n dark</numerusform>
            <numerusform>%n dark</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Copies</name>
    <message numerus="yes">
        <source>%n attempt(s)</source>
        <translation>
            <numerusform>%n attempt</numerusform>
            <numerusform>%n attempts</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n trainee(s)</source>
        <translation>
            <numerusform>%n trainee</numerusform>
            <numerusform>%n trainees</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n other record(s)</source>
        <translation>
            <numerusform>%n other record</numerusform>
            <numerusform>%n other records</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n event(s)</source>
        <translation>
            <numerusform>%n event</numerusform>
            <numerusform>%n events</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::DebriefPage</name>
    <message numerus="yes">
        <source>%n step(s) out of place</source>
        <translation>
            <numerusform>%n step out of place</numerusform>
            <numerusform>%n steps out of place</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n row(s) copied</source>
        <translation>
            <numerusform>%n row copied</numerusform>
            <numerusform>%n rows copied</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n step(s) amended; the first record is kept</source>
        <translation>
            <numerusform>%n step amended; the first record is kept</numerusform>
            <numerusform>%n steps amended; the first record is kept</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>DebriefText</name>
    <message numerus="yes">
        <source>%n more zone(s) not clean</source>
        <translation>
            <numerusform>%n more zone not clean</numerusform>
            <numerusform>%n more zones not clean</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n more zone(s) clean</source>
        <translation>
            <numerusform>%n more zone clean</numerusform>
            <numerusform>%n more zones clean</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>; and %n more</source>
        <translation>
            <numerusform>; and %n more</numerusform>
            <numerusform>; and %n more</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n point(s) wrong</source>
        <translation>
            <numerusform>%n point wrong</numerusform>
            <numerusform>%n points wrong</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Display</name>
    <message numerus="yes">
        <source>and %n more</source>
        <translation>
            <numerusform>and %n more</numerusform>
            <numerusform>and %n more</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>ends %1 (%n day(s))</source>
        <translation>
            <numerusform>ends %1 (%n day)</numerusform>
            <numerusform>ends %1 (%n days)</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::DrillPanel</name>
    <message numerus="yes">
        <source>%n line(s) of the drill copied</source>
        <translation>
            <numerusform>%n line of the drill copied</numerusform>
            <numerusform>%n lines of the drill copied</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::EditionDialog</name>
    <message numerus="yes">
        <source>%n limit(s) of the set are in the rubric already.</source>
        <translation>
            <numerusform>%n limit of the set are in the rubric already.</numerusform>
            <numerusform>%n limits of the set are in the rubric already.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>EditionWords</name>
    <message numerus="yes">
        <source>%n zone(s) new</source>
        <translation>
            <numerusform>%n zone new</numerusform>
            <numerusform>%n zones new</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n zone(s) retired</source>
        <translation>
            <numerusform>%n zone retired</numerusform>
            <numerusform>%n zones retired</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n zone(s) changed</source>
        <translation>
            <numerusform>%n zone changed</numerusform>
            <numerusform>%n zones changed</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n step(s) new</source>
        <translation>
            <numerusform>%n step new</numerusform>
            <numerusform>%n steps new</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n step(s) retired</source>
        <translation>
            <numerusform>%n step retired</numerusform>
            <numerusform>%n steps retired</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n step(s) changed</source>
        <translation>
            <numerusform>%n step changed</numerusform>
            <numerusform>%n steps changed</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n point(s) new</source>
        <translation>
            <numerusform>%n point new</numerusform>
            <numerusform>%n points new</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n point(s) retired</source>
        <translation>
            <numerusform>%n point retired</numerusform>
            <numerusform>%n points retired</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n point(s) changed</source>
        <translation>
            <numerusform>%n point changed</numerusform>
            <numerusform>%n points changed</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n limit(s) new</source>
        <translation>
            <numerusform>%n limit new</numerusform>
            <numerusform>%n limits new</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n limit(s) retired</source>
        <translation>
            <numerusform>%n limit retired</numerusform>
            <numerusform>%n limits retired</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n limit(s) changed</source>
        <translation>
            <numerusform>%n limit changed</numerusform>
            <numerusform>%n limits changed</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n order rule(s) new</source>
        <translation>
            <numerusform>%n order rule new</numerusform>
            <numerusform>%n order rules new</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n order rule(s) retired</source>
        <translation>
            <numerusform>%n order rule retired</numerusform>
            <numerusform>%n order rules retired</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n order rule(s) changed</source>
        <translation>
            <numerusform>%n order rule changed</numerusform>
            <numerusform>%n order rules changed</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>None of %n result(s) would change.</source>
        <translation>
            <numerusform>None of %n result would change.</numerusform>
            <numerusform>None of %n results would change.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Marks of steps and points that are no more were left out of %n attempt(s).</source>
        <translation>
            <numerusform>Marks of steps and points that are no more were left out of %n attempt.</numerusform>
            <numerusform>Marks of steps and points that are no more were left out of %n attempts.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::EditorPage</name>
    <message numerus="yes">
        <source>%n row(s) copied</source>
        <translation>
            <numerusform>%n row copied</numerusform>
            <numerusform>%n rows copied</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n, each with its source</source>
        <translation>
            <numerusform>%n, each with its source</numerusform>
            <numerusform>%n, each with its source</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n thing(s) to mend. %1</source>
        <translation>
            <numerusform>%n thing to mend. %1</numerusform>
            <numerusform>%n things to mend. %1</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::ExportJob</name>
    <message numerus="yes">
        <source>%n document(s) written to %1.</source>
        <translation>
            <numerusform>%n document written to %1.</numerusform>
            <numerusform>%n documents written to %1.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n document(s) sealed in %1.</source>
        <translation>
            <numerusform>%n document sealed in %1.</numerusform>
            <numerusform>%n documents sealed in %1.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::FindPart</name>
    <message numerus="yes">
        <source>%n step(s) found</source>
        <translation>
            <numerusform>%n step found</numerusform>
            <numerusform>%n steps found</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Gate</name>
    <message numerus="yes">
        <source>Too many tries failed: wait %n second(s).</source>
        <translation>
            <numerusform>Too many tries failed: wait %n second.</numerusform>
            <numerusform>Too many tries failed: wait %n seconds.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::HeaderPart</name>
    <message numerus="yes">
        <source>not saved, %n waiting</source>
        <translation>
            <numerusform>not saved, %n waiting</numerusform>
            <numerusform>not saved, %n waiting</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::KeepingDialog</name>
    <message numerus="yes">
        <source>Records are kept for %n year(s) from the newest one of a person. The program&apos;s settings say how long; where a law asks for longer, it decides.</source>
        <translation>
            <numerusform>Records are kept for %n year from the newest one of a person. The program&apos;s settings say how long; where a law asks for longer, it decides.</numerusform>
            <numerusform>Records are kept for %n years from the newest one of a person. The program&apos;s settings say how long; where a law asks for longer, it decides.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Erased; %n attempt(s) kept without a name</source>
        <translation>
            <numerusform>Erased; %n attempt kept without a name</numerusform>
            <numerusform>Erased; %n attempts kept without a name</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::LearningPanel</name>
    <message numerus="yes">
        <source>%n day(s)</source>
        <comment>between two attempts</comment>
        <translation>
            <numerusform>%n day</numerusform>
            <numerusform>%n days</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n whole attempt(s): no trend claimed under four.</source>
        <translation>
            <numerusform>%n whole attempt: no trend claimed under four.</numerusform>
            <numerusform>%n whole attempts: no trend claimed under four.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Over %n whole attempt(s) no clear trend (points a week, %1).</source>
        <translation>
            <numerusform>Over %n whole attempt no clear trend (points a week, %1).</numerusform>
            <numerusform>Over %n whole attempts no clear trend (points a week, %1).</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Trend over %n whole attempt(s): %1 points more a week (%2).</source>
        <translation>
            <numerusform>Trend over %n whole attempt: %1 points more a week (%2).</numerusform>
            <numerusform>Trend over %n whole attempts: %1 points more a week (%2).</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Trend over %n whole attempt(s): %1 points fewer a week (%2).</source>
        <translation>
            <numerusform>Trend over %n whole attempt: %1 points fewer a week (%2).</numerusform>
            <numerusform>Trend over %n whole attempts: %1 points fewer a week (%2).</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::ListeningPart</name>
    <message numerus="yes">
        <source>and %n more</source>
        <translation>
            <numerusform>and %n more</numerusform>
            <numerusform>and %n more</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::MainWindow</name>
    <message numerus="yes">
        <source>NOT SAVED: %1 (%n waiting, kept in memory)</source>
        <translation>
            <numerusform>NOT SAVED: %1 (%n waiting, kept in memory)</numerusform>
            <numerusform>NOT SAVED: %1 (%n waiting, kept in memory)</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n added</source>
        <translation>
            <numerusform>%n added</numerusform>
            <numerusform>%n added</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n changed</source>
        <translation>
            <numerusform>%n changed</numerusform>
            <numerusform>%n changed</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n already there</source>
        <translation>
            <numerusform>%n already there</numerusform>
            <numerusform>%n already there</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n refused</source>
        <translation>
            <numerusform>%n refused</numerusform>
            <numerusform>%n refused</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Restored: %n attempt(s). The file as it was before lies among the copies</source>
        <translation>
            <numerusform>Restored: %n attempt. The file as it was before lies among the copies</numerusform>
            <numerusform>Restored: %n attempts. The file as it was before lies among the copies</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>OrderText</name>
    <message numerus="yes">
        <source>%1 and %n more</source>
        <comment>first of some steps that moved together</comment>
        <translation>
            <numerusform>%1 and %n more</numerusform>
            <numerusform>%1 and %n more</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n steps of %1</source>
        <translation>
            <numerusform>%n steps of %1</numerusform>
            <numerusform>%n steps of %1</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::PersonDialog</name>
    <message numerus="yes">
        <source>%n thing(s) missing.</source>
        <translation>
            <numerusform>%n thing missing.</numerusform>
            <numerusform>%n things missing.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>PersonViews</name>
    <message numerus="yes">
        <source>in %n day(s)</source>
        <translation>
            <numerusform>in %n day</numerusform>
            <numerusform>in %n days</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n day(s) ago</source>
        <translation>
            <numerusform>%n day ago</numerusform>
            <numerusform>%n days ago</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%1 not passed, %n test(s) taken</source>
        <translation>
            <numerusform>%1 not passed, %n test taken</numerusform>
            <numerusform>%1 not passed, %n tests taken</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::PlanPart</name>
    <message numerus="yes">
        <source>, %n left behind</source>
        <translation>
            <numerusform>, %n left behind</numerusform>
            <numerusform>, %n left behind</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n dark behind</source>
        <translation>
            <numerusform>%n dark behind</numerusform>
            <numerusform>%n dark behind</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::ProgramPage</name>
    <message numerus="yes">
        <source>%1 of %n in training need action</source>
        <translation>
            <numerusform>%1 of %n in training need action</numerusform>
            <numerusform>%1 of %n in training need action</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%1: %n trainee(s)</source>
        <translation>
            <numerusform>%1: %n trainee</numerusform>
            <numerusform>%1: %n trainees</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%1 booked in the next %n day(s)</source>
        <translation>
            <numerusform>%1 booked in the next %n day</numerusform>
            <numerusform>%1 booked in the next %n days</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>the last %n week(s)</source>
        <translation>
            <numerusform>the last %n week</numerusform>
            <numerusform>the last %n weeks</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n in training</source>
        <translation>
            <numerusform>%n in training</numerusform>
            <numerusform>%n in training</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n row(s) copied</source>
        <translation>
            <numerusform>%n row copied</numerusform>
            <numerusform>%n rows copied</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::ProgramSettingsDialog</name>
    <message numerus="yes">
        <source>%n field(s) need another value.</source>
        <translation>
            <numerusform>%n field need another value.</numerusform>
            <numerusform>%n fields need another value.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>ProgramText</name>
    <message numerus="yes">
        <source>ready in %n day(s) at the earliest, the latest cannot be told</source>
        <translation>
            <numerusform>ready in %n day at the earliest, the latest cannot be told</numerusform>
            <numerusform>ready in %n days at the earliest, the latest cannot be told</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>ready in about %n day(s)</source>
        <translation>
            <numerusform>ready in about %n day</numerusform>
            <numerusform>ready in about %n days</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>in %n day(s)</source>
        <translation>
            <numerusform>in %n day</numerusform>
            <numerusform>in %n days</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>No gain over the last %n whole attempt(s): %1</source>
        <translation>
            <numerusform>No gain over the last %n whole attempt: %1</numerusform>
            <numerusform>No gain over the last %n whole attempts: %1</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%1 and %n more</source>
        <translation>
            <numerusform>%1 and %n more</numerusform>
            <numerusform>%1 and %n more</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Test on %1, in %n day(s), and not ready</source>
        <translation>
            <numerusform>Test on %1, in %n day, and not ready</numerusform>
            <numerusform>Test on %1, in %n days, and not ready</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>No attempt yet, %n day(s) after the start</source>
        <translation>
            <numerusform>No attempt yet, %n day after the start</numerusform>
            <numerusform>No attempt yet, %n days after the start</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>No attempt for %n day(s)</source>
        <translation>
            <numerusform>No attempt for %n day</numerusform>
            <numerusform>No attempt for %n days</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Sheet of %1 is not signed, %n day(s) after it was made</source>
        <translation>
            <numerusform>Sheet of %1 is not signed, %n day after it was made</numerusform>
            <numerusform>Sheet of %1 is not signed, %n days after it was made</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>To be settled: %n second scoring(s)</source>
        <translation>
            <numerusform>To be settled: %n second scoring</numerusform>
            <numerusform>To be settled: %n second scorings</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>ReadinessWords</name>
    <message numerus="yes">
        <source>%n point(s)</source>
        <comment>added to the score, of 100</comment>
        <translation>
            <numerusform>%n point</numerusform>
            <numerusform>%n points</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n more in 100 pass</source>
        <comment>what a drill brings</comment>
        <translation>
            <numerusform>%n more in 100 pass</numerusform>
            <numerusform>%n more in 100 pass</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::RibbonPart</name>
    <message numerus="yes">
        <source>%n out of place</source>
        <translation>
            <numerusform>%n out of place</numerusform>
            <numerusform>%n out of place</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::RubricPage</name>
    <message numerus="yes">
        <source>%n, each with its source</source>
        <translation>
            <numerusform>%n, each with its source</numerusform>
            <numerusform>%n, each with its source</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n row(s) copied</source>
        <translation>
            <numerusform>%n row copied</numerusform>
            <numerusform>%n rows copied</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>RubricText</name>
    <message numerus="yes">
        <source>%n rule(s); the rest is free</source>
        <translation>
            <numerusform>%n rule; the rest is free</numerusform>
            <numerusform>%n rules; the rest is free</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n remark(s)</source>
        <translation>
            <numerusform>%n remark</numerusform>
            <numerusform>%n remarks</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::RunwayDelegate</name>
    <message numerus="yes">
        <source>up to %n day(s) after the permit ends</source>
        <translation>
            <numerusform>up to %n day after the permit ends</numerusform>
            <numerusform>up to %n days after the permit ends</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::ScopeColumn</name>
    <message numerus="yes">
        <source>%n step(s)</source>
        <translation>
            <numerusform>%n step</numerusform>
            <numerusform>%n steps</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::ScoringModel</name>
    <message numerus="yes">
        <source>%1 has %n point(s).</source>
        <translation>
            <numerusform>%1 has %n point.</numerusform>
            <numerusform>%1 has %n points.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%1 of %n point(s)</source>
        <translation>
            <numerusform>%1 of %n point</numerusform>
            <numerusform>%1 of %n points</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n said wrongly</source>
        <translation>
            <numerusform>%n said wrongly</numerusform>
            <numerusform>%n said wrongly</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n prompt(s)</source>
        <translation>
            <numerusform>%n prompt</numerusform>
            <numerusform>%n prompts</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::SettleDialog</name>
    <message numerus="yes">
        <source>All %n difference(s) are settled.</source>
        <translation>
            <numerusform>All %n difference are settled.</numerusform>
            <numerusform>All %n differences are settled.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n difference(s) are settled.</source>
        <translation>
            <numerusform>%n difference are settled.</numerusform>
            <numerusform>%n differences are settled.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Left open: %n. What is open counts neither as credit nor as fault.</source>
        <translation>
            <numerusform>Left open: %n. What is open counts neither as credit nor as fault.</numerusform>
            <numerusform>Left open: %n. What is open counts neither as credit nor as fault.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::SettleModel</name>
    <message numerus="yes">
        <source>%1, all %n step(s): %2, %3</source>
        <translation>
            <numerusform>%1, all %n step: %2, %3</numerusform>
            <numerusform>%1, all %n steps: %2, %3</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::SettlePart</name>
    <message numerus="yes">
        <source>All %n step(s)</source>
        <translation>
            <numerusform>All %n step</numerusform>
            <numerusform>All %n steps</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>, %n must pass</source>
        <translation>
            <numerusform>, %n must pass</numerusform>
            <numerusform>, %n must pass</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::SheetPreview</name>
    <message numerus="yes">
        <source>%n page(s) sent to %1</source>
        <translation>
            <numerusform>%n page sent to %1</numerusform>
            <numerusform>%n pages sent to %1</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>StartForm</name>
    <message numerus="yes">
        <source>%n zone(s)</source>
        <translation>
            <numerusform>%n zone</numerusform>
            <numerusform>%n zones</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n step(s)</source>
        <translation>
            <numerusform>%n step</numerusform>
            <numerusform>%n steps</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n must pass</source>
        <translation>
            <numerusform>%n must pass</numerusform>
            <numerusform>%n must pass</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>about %n minute(s)</source>
        <translation>
            <numerusform>about %n minute</numerusform>
            <numerusform>about %n minutes</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>permit %n day(s)</source>
        <translation>
            <numerusform>permit %n day</numerusform>
            <numerusform>permit %n days</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n attempt(s), last %1</source>
        <translation>
            <numerusform>%n attempt, last %1</numerusform>
            <numerusform>%n attempts, last %1</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n minute(s)</source>
        <translation>
            <numerusform>%n minute</numerusform>
            <numerusform>%n minutes</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>limits of %1 replace %n of its limits</source>
        <translation>
            <numerusform>limits of %1 replace %n of its limits</numerusform>
            <numerusform>limits of %1 replace %n of its limits</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%1 on %2, stopped %3 after %4 of %n step(s)</source>
        <translation>
            <numerusform>%1 on %2, stopped %3 after %4 of %n step</numerusform>
            <numerusform>%1 on %2, stopped %3 after %4 of %n steps</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::StepForm</name>
    <message numerus="yes">
        <source>of %n point(s)</source>
        <translation>
            <numerusform>of %n point</numerusform>
            <numerusform>of %n points</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::StripPart</name>
    <message numerus="yes">
        <source>%n prompt(s)</source>
        <translation>
            <numerusform>%n prompt</numerusform>
            <numerusform>%n prompts</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::TrackPage</name>
    <message numerus="yes">
        <source>%n result(s)</source>
        <translation>
            <numerusform>%n result</numerusform>
            <numerusform>%n results</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n row(s) copied</source>
        <translation>
            <numerusform>%n row copied</numerusform>
            <numerusform>%n rows copied</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>TrackText</name>
    <message numerus="yes">
        <source>Over these %n result(s) they did better than one chance for all.</source>
        <translation>
            <numerusform>Over these %n result they did better than one chance for all.</numerusform>
            <numerusform>Over these %n results they did better than one chance for all.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Over these %n result(s) they did no better than one chance for all.</source>
        <translation>
            <numerusform>Over these %n result they did no better than one chance for all.</numerusform>
            <numerusform>Over these %n results they did no better than one chance for all.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n result(s), too few for groups</source>
        <translation>
            <numerusform>%n result, too few for groups</numerusform>
            <numerusform>%n results, too few for groups</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::TrailPage</name>
    <message numerus="yes">
        <source>%n row(s) copied</source>
        <translation>
            <numerusform>%n row copied</numerusform>
            <numerusform>%n rows copied</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::TraineePage</name>
    <message numerus="yes">
        <source>%n attempt(s)</source>
        <translation>
            <numerusform>%n attempt</numerusform>
            <numerusform>%n attempts</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n day(s), since %1</source>
        <translation>
            <numerusform>%n day, since %1</numerusform>
            <numerusform>%n days, since %1</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n row(s) copied</source>
        <translation>
            <numerusform>%n row copied</numerusform>
            <numerusform>%n rows copied</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Dotted: over %n day(s) between.</source>
        <translation>
            <numerusform>Dotted: over %n day between.</numerusform>
            <numerusform>Dotted: over %n days between.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::TraineesPage</name>
    <message numerus="yes">
        <source>%n in %1</source>
        <translation>
            <numerusform>%n in %1</numerusform>
            <numerusform>%n in %1</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n row(s) copied</source>
        <translation>
            <numerusform>%n row copied</numerusform>
            <numerusform>%n rows copied</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>markerlamp::app::ZoneForm</name>
    <message numerus="yes">
        <source>%n step(s)</source>
        <translation>
            <numerusform>%n step</numerusform>
            <numerusform>%n steps</numerusform>
        </translation>
    </message>
</context>
</TS>
