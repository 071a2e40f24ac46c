package idlewright.frame;

import java.io.ByteArrayInputStream;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import org.springframework.context.support.GenericApplicationContext;
import org.thymeleaf.spring6.SpringTemplateEngine;
import org.thymeleaf.templateresolver.ClassLoaderTemplateResolver;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;

/** Paper without the rest of the house, and the judge of it. */
public final class TrialPaper {

    public static final Clock NOON = Clock.fixed(Instant.parse("2026-11-09T12:00:00Z"), ZoneOffset.UTC);

    private TrialPaper() {}

    public static Paper paper() {
        return paper(Path.of("target/no-home"));
    }

    /** The same with the typefaces of a home. */
    public static Paper paper(Path home) {
        var beans = new GenericApplicationContext();
        beans.registerBean("times", Times.class, () -> new Times(NOON));
        beans.refresh();
        var found = new ClassLoaderTemplateResolver();
        found.setPrefix("templates/");
        found.setSuffix(".html");
        var engine = new SpringTemplateEngine();
        engine.setTemplateResolver(found);
        engine.setEnableSpringELCompiler(true);
        return new Paper(engine, beans, NOON, new Typefaces(home));
    }

    /** What veraPDF finds wrong with it as paper for keeping (PDF/A-3u) and for reading aloud (PDF/UA-1). */
    public static List<String> failures(byte[] pdf) throws Exception {
        VeraGreenfieldFoundryProvider.initialise();
        var failures = new ArrayList<String>();
        for (var standard : List.of(PDFAFlavour.PDFA_3_U, PDFAFlavour.PDFUA_1)) {
            try (var parser = Foundries.defaultInstance().createParser(new ByteArrayInputStream(pdf), standard);
                    var judge = Foundries.defaultInstance().createValidator(standard, false)) {
                var result = judge.validate(parser);
                if (result.getTotalAssertions() == 0) {
                    failures.add(standard + ": nothing was checked");
                }
                result.getTestAssertions().stream()
                        .filter(check -> check.getStatus() == TestAssertion.Status.FAILED)
                        .map(check -> standard + " " + check.getRuleId() + " " + check.getMessage())
                        .forEach(failures::add);
            }
        }
        return failures;
    }
}
