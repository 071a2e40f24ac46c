package idlewright.ground;

import org.springframework.boot.diagnostics.AbstractFailureAnalyzer;
import org.springframework.boot.diagnostics.FailureAnalysis;

/** Turns {@link CannotStart} into two plain paragraphs instead of a stack trace. */
final class CannotStartAnalyzer extends AbstractFailureAnalyzer<CannotStart> {

    @Override
    protected FailureAnalysis analyze(Throwable rootFailure, CannotStart cause) {
        return new FailureAnalysis(cause.getMessage(), cause.remedy(), rootFailure);
    }
}
