package idlewright.frame;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.frame.rules.BandPlot;
import idlewright.frame.rules.DotPlot;
import idlewright.frame.rules.LinePlot;
import idlewright.frame.rules.SharePlot;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.thymeleaf.context.Context;
import org.thymeleaf.context.IExpressionContext;
import org.thymeleaf.linkbuilder.StandardLinkBuilder;
import org.thymeleaf.spring6.SpringTemplateEngine;
import org.thymeleaf.templateresolver.ClassLoaderTemplateResolver;

/** Draws every fragment with made-up content into {@code target/specimen}, to be looked at in a browser. */
@DisplayName("The specimen pages")
class SpecimenTest {

    private static final Path HERE = Path.of("target", "specimen");
    private static final Path STATIC = Path.of("src", "main", "resources", "static");
    private static final SpringTemplateEngine ENGINE = engine();

    public record Me(String name, boolean writer, boolean technician, boolean owner, boolean bay) {
        Me(String name, boolean writer, boolean technician, boolean owner) {
            this(name, writer, technician, owner, false);
        }
    }

    public record Car(String ticket, String words) {}

    public record Stage(String words, String at) {}

    @BeforeAll
    static void laysTheStyleSheetsBeside() throws IOException {
        Files.createDirectories(HERE);
        try (Stream<Path> files = Files.walk(STATIC)) {
            for (Path file : files.toList()) {
                Path copy = HERE.resolve(STATIC.relativize(file));
                if (Files.isDirectory(file)) {
                    Files.createDirectories(copy);
                } else {
                    Files.copy(file, copy, StandardCopyOption.REPLACE_EXISTING);
                }
            }
        }
        String htmx = "webjars/htmx.org/2.0.10/dist/htmx.min.js";
        Path copy = HERE.resolve(htmx);
        Files.createDirectories(copy.getParent());
        try (InputStream in = SpecimenTest.class.getResourceAsStream("/META-INF/resources/" + htmx)) {
            Files.copy(in, copy, StandardCopyOption.REPLACE_EXISTING);
        }
    }

    @Test
    void showsATicketAsAThread() throws IOException {
        assertThat(page("ticket", shop(new Me("Wren", true, false, false))))
                .contains("<title>Ticket 1042 - Idlewright</title>", "There is no other", "outside", "known good: 9")
                .contains("aria-current=\"page\">Counter")
                .doesNotContain("Comebacks", "There is a problem");
    }

    @Test
    void tiesEveryErrorToItsField() throws IOException {
        Map<String, Object> model = shop(new Me("Wren", true, false, false));
        Map<String, String> problems = new LinkedHashMap<>();
        problems.put("plate", "Enter the plate as it stands on the car");
        problems.put("flow", "Enter the flow as a number, like 9.6");
        problems.put("engine", "Say whether the engine was hot or cold");
        model.put("problems", problems);
        assertThat(page("form", model))
                .contains("<title>Error: New ticket - Idlewright</title>", "There is a problem")
                .contains(
                        "href=\"#f-plate\"", "id=\"f-plate-wrong\"", "aria-describedby=\"f-plate-hint f-plate-wrong\"")
                .contains("aria-invalid=\"true\"", "value=\"nine point six\"", "value=\"a-fresh-key\"");
    }

    @Test
    void showsTheCounterAsSentences() throws IOException {
        assertThat(page("counter", shop(new Me("Imre", false, false, true)))).contains("Comebacks", "Set-up");
    }

    @Test
    void showsTheBay() throws IOException {
        Map<String, Object> model = shop(new Me("Tamsin", false, true, false));
        model.put("car", new Car("1042", "Brightwater Finch 2.2, hesitates at tip-in"));
        assertThat(page("bay", model)).contains("Online", "data-key=\"7\"", "Tamsin, your own page", "Sign out");
        model.put("car", null);
        assertThat(page("cars", model)).contains("Nobody has it");
    }

    @Test
    void drawsPlotsWithTheirFiguresAsATable() throws IOException {
        Map<String, Object> model = shop(new Me("Imre", false, false, true));
        double[] time = new double[33];
        double[] before = new double[33];
        double[] after = new double[33];
        for (int i = 0; i < 33; i++) {
            time[i] = i / 4.0;
            before[i] = i >= 12 && i <= 18 ? 14.2 : 3 + i * 0.9 + Math.sin(i) * 0.3;
            after[i] = 3.2 + i * 1.1 + Math.sin(i * 1.3) * 0.3;
        }
        model.put(
                "sweep",
                LinePlot.titled("Air flow while the throttle opens slowly")
                        .across("time", "s")
                        .up("flow", "g/s")
                        .series("before", time, before)
                        .series("after", time, after)
                        .stretch(3, 4.5, "flat spot")
                        .draw());
        double[] days = {0, 6, 11, 19, 33, 60};
        model.put(
                "survival",
                LinePlot.titled("Repairs that held")
                        .across("since handing back", "days")
                        .up("still holding", "%")
                        .upFrom(0, 100)
                        .steps(
                                "air-flow sensor",
                                days,
                                new double[] {100, 98, 95, 93, 93, 91},
                                new double[] {100, 93, 88, 85, 85, 80},
                                new double[] {100, 100, 99, 98, 98, 97})
                        .steps("coil", days, new double[] {100, 96, 90, 82, 80, 80})
                        .draw());
        model.put(
                "spread",
                DotPlot.titled("Known good: Finch 2.2, 2,500 rpm")
                        .along("mass air flow", "g/s")
                        .limits(11.4, 13.9)
                        .values(11.8, 12.15, 12.3, 12.31, 12.32, 12.45, 12.6, 12.62, 12.75, 12.95, 13.2, 13.5)
                        .struck(14.4)
                        .draw());
        model.put(
                "shares",
                SharePlot.titled("Comebacks by part", "Part")
                        .group("Air-flow sensor", "/comebacks/1", 3, 41, 0.025, 0.194)
                        .group("Coil boot", null, 0, 12, 0, 0.243)
                        .group("Injector", null, 0, 0, 0, 0)
                        .draw());
        assertThat(page("owner", model))
                .contains(
                        "<title>Air flow while the throttle opens slowly</title>",
                        "flat spot from 3",
                        "The figures as a table")
                .contains("3 of 41", "7 %, likely 3 to 19 %", "no cases yet", "struck out");
    }

    @Test
    void showsBothValuesWhenTwoPeopleChangedTheSame() throws IOException {
        Map<String, Object> model = shop(new Me("Wren", true, false, false));
        model.put(
                "stale",
                new Stale(
                        "Ticket 1042",
                        List.of(
                                new Stale.Clash("Odometer", "86,490 km", "86,940 km"),
                                new Stale.Clash("Key tag", "7", "")),
                        "Tamsin",
                        null,
                        "#"));
        assertThat(page("conflict", render("frame/stale", model))).contains("86,940 km", "86,490 km", "Tamsin");
    }

    @Test
    void saysTheSameWhenSomethingIsAbsentAndWhenItIsForbidden() throws IOException {
        Map<String, Object> model = shop(null);
        model.put("status", 404);
        String absent = page("absent", render("frame/error", model));
        model.put("status", 403);
        String forbidden = page("forbidden", render("frame/error", model));
        assertThat(forbidden)
                .isEqualTo(absent)
                .contains("There is nothing here", "data-failed")
                .doesNotContain("Sign out");
        model.put("status", 500);
        model.put("reference", "7f3a-11");
        assertThat(page("broken", render("frame/error", model)))
                .contains("was not kept", "7f3a-11", "<title>Something broke - Idlewright</title>");
    }

    private static Map<String, Object> shop(Me me) {
        Map<String, Object> model = new LinkedHashMap<>();
        model.put("me", me);
        model.put("submission", "a-fresh-key");
        BandPlot.Sketch trim = BandPlot.in("%").limits(-10.0, 10.0);
        model.put(
                "idleTrim",
                trim.value(4.7, "+4.7").uncertainty(0.8).verdict("within").draw());
        model.put("fastTrim", trim.value(15.6, "+15.6").verdict("outside").draw());
        model.put(
                "closeTrim",
                trim.value(9.6, "+9.6").verdict("too close to call").draw());
        BandPlot.Sketch flow = BandPlot.in("g/s")
                .limits(11.4, 13.9)
                .good(11.8, 12.15, 12.3, 12.45, 12.6, 12.75, 12.95, 13.2, 13.5)
                .uncertainty(0.3);
        model.put("nothing", flow.draw());
        model.put("flow", flow.value(9.6).verdict("outside").draw());
        model.put(
                "drop",
                BandPlot.in("V").limits(null, 0.2).value(0.08).verdict("within").draw());
        model.put(
                "few",
                BandPlot.in("g/s")
                        .good(3.1, 3.3, 3.8)
                        .value(3.5)
                        .verdict("not judged")
                        .draw());
        model.put(
                "stages",
                List.of(
                        new Stage("heard", "9 Nov, 8:14"),
                        new Stage("reproduced", "9:02"),
                        new Stage("traced", "9:58"),
                        new Stage("mended", "11:05"),
                        new Stage("proved", null),
                        new Stage("watched", null)));
        return model;
    }

    private static String page(String name, Map<String, Object> model) throws IOException {
        return page(name, render("specimen/" + name, model));
    }

    static String render(String template, Map<String, Object> model) {
        return ENGINE.process(template, new Context(Locale.UK, model));
    }

    private static String page(String name, String html) throws IOException {
        Files.writeString(HERE.resolve(name + ".html"), html);
        assertThat(html).as("no style or script within the page").doesNotContain(" style=", "<style", " onclick=");
        assertThat(html.split("<h1", -1)).as("one first heading").hasSize(2);
        return html;
    }

    private static SpringTemplateEngine engine() {
        SpringTemplateEngine engine = new SpringTemplateEngine();
        engine.addTemplateResolver(resolver("templates/", "frame/*"));
        engine.addTemplateResolver(resolver("", "specimen/*"));
        engine.setLinkBuilder(new StandardLinkBuilder() {
            @Override
            protected String computeContextPath(
                    IExpressionContext context, String base, Map<String, Object> parameters) {
                return "";
            }

            @Override
            protected String processLink(IExpressionContext context, String link) {
                return link.substring(1);
            }
        });
        return engine;
    }

    private static ClassLoaderTemplateResolver resolver(String prefix, String names) {
        ClassLoaderTemplateResolver resolver = new ClassLoaderTemplateResolver();
        resolver.setPrefix(prefix);
        resolver.setSuffix(".html");
        resolver.getResolvablePatternSpec().addPattern(names);
        return resolver;
    }
}
