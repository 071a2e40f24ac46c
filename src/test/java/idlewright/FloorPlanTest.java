package idlewright;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.library.dependencies.SlicesRuleDefinition;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.springframework.modulith.core.ApplicationModules;
import org.springframework.modulith.docs.Documenter;
import org.springframework.stereotype.Controller;

/** Holds the house: one claim a rule of the design. */
class FloorPlanTest {

    /** The rooms in the order in which a complaint walks through them. */
    private static final List<String> ROOMS = List.of(
            "reference",
            "frame",
            "people",
            "journal",
            "intake",
            "bench",
            "billing",
            "repair",
            "proof",
            "warranty",
            "insight");

    private static final JavaClasses HOUSE = new ClassFileImporter()
            .withImportOption(new ImportOption.DoNotIncludeTests())
            .importPackages("idlewright");

    @Test
    void keepsTheDrawersClosedAndDrawsTheFloorPlan() {
        var modules = ApplicationModules.of(Idlewright.class);
        modules.verify();
        new Documenter(modules).writeModulesAsPlantUml();
    }

    @Test
    void knowsNoRoomButThoseOfTheJourney() {
        Set<String> found = HOUSE.stream()
                .map(JavaClass::getPackageName)
                .filter(name -> name.startsWith("idlewright."))
                .map(name -> name.split("\\.")[1])
                .filter(name -> !name.equals("ground") && !name.equals("demo"))
                .collect(Collectors.toCollection(TreeSet::new));
        assertThat(ROOMS).containsAll(found);
    }

    @Test
    void looksBackNeverAhead() {
        for (int room = 0; room < ROOMS.size(); room++) {
            for (int ahead = room + 1; ahead < ROOMS.size(); ahead++) {
                noClasses()
                        .that()
                        .resideInAPackage("idlewright." + ROOMS.get(room) + "..")
                        .should()
                        .dependOnClassesThat()
                        .resideInAPackage("idlewright." + ROOMS.get(ahead) + "..")
                        .allowEmptyShould(true)
                        .check(HOUSE);
            }
        }
    }

    @Test
    void keepsTheReferenceAndTheRulesPure() {
        noClasses()
                .that()
                .resideInAPackage("idlewright.reference..")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("org.springframework..", "jakarta..", "java.sql..")
                .because("the reference is pure Java")
                .check(HOUSE.that(com.tngtech.archunit.base.DescribedPredicate.describe(
                        "no package-info", type -> !type.getSimpleName().equals("package-info"))));
        noClasses()
                .that()
                .resideInAPackage("idlewright.*.rules..")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("org.springframework..", "jakarta..", "java.sql..")
                .orShould()
                .dependOnClassesThat()
                .haveFullyQualifiedName("java.time.Clock")
                .because("rules are pure: no Spring, no JPA, no clock")
                .allowEmptyShould(true)
                .check(HOUSE.that(com.tngtech.archunit.base.DescribedPredicate.describe(
                        "no package-info", type -> !type.getSimpleName().equals("package-info"))));
    }

    @Test
    void letsNoScreenTouchAModel() {
        noClasses()
                .that()
                .resideInAPackage("idlewright.*.screens..")
                .should()
                .dependOnClassesThat()
                .resideInAPackage("idlewright.*.model..")
                .allowEmptyShould(true)
                .check(HOUSE);
    }

    @Test
    void keepsScreensToTheirRoom() {
        classes()
                .that()
                .resideInAPackage("idlewright.*.screens..")
                .and()
                .areAnnotatedWith(Controller.class)
                .should()
                .notBePublic()
                .check(HOUSE);
    }

    @Test
    void hasNoCirclesInARoom() {
        for (String room : ROOMS) {
            SlicesRuleDefinition.slices()
                    .matching("idlewright." + room + ".(model|screens)..")
                    .should()
                    .beFreeOfCycles()
                    .allowEmptyShould(true)
                    .check(HOUSE);
            noClasses()
                    .that()
                    .resideInAnyPackage("idlewright." + room + ".rules..", "idlewright." + room + ".model..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAPackage("idlewright." + room + ".screens..")
                    .allowEmptyShould(true)
                    .check(HOUSE);
        }
    }

    @Test
    void carriesNoNameThatHidesWhatAThingIs() {
        classes()
                .that()
                .resideInAPackage("idlewright..")
                .should()
                .haveNameNotMatching(".*(Impl|Dto|DTO|Manager|Helper|Util|Utils|Service|Port|Mapper)$")
                .check(HOUSE);
    }

    @Test
    void asksTheOneClockForTheTime() {
        noClasses()
                .that()
                .resideOutsideOfPackages("idlewright.ground..")
                .should()
                .callMethod(java.time.Instant.class, "now")
                .orShould()
                .callMethod(java.time.LocalDate.class, "now")
                .orShould()
                .callMethod(java.time.LocalDateTime.class, "now")
                .orShould()
                .callMethod(System.class, "currentTimeMillis")
                .check(HOUSE);
    }

    @Test
    void givesEveryScreenItsTemplateAndEveryTemplateItsScreen() throws IOException {
        var templates = Path.of("src/main/resources/templates");
        var screens = new TreeSet<String>();
        for (JavaClass type : HOUSE) {
            if (type.isAnnotatedWith(Controller.class) && !type.getModifiers().contains(JavaModifier.ABSTRACT)) {
                String room = type.getPackageName().split("\\.")[1];
                String word = type.getSimpleName().replaceAll("Screen$", "").replaceAll("(?<=[a-z])(?=[A-Z])", "-");
                screens.add(room + "/" + word.toLowerCase(Locale.ROOT));
            }
        }
        for (String screen : screens) {
            assertThat(templates.resolve(screen + ".html"))
                    .as("the template of " + screen)
                    .exists();
        }
        try (var files = Files.walk(templates)) {
            var orphans = files.filter(file -> file.toString().endsWith(".html"))
                    .map(file -> templates.relativize(file).toString().replace(".html", ""))
                    .filter(name -> !name.startsWith("frame/") && !name.startsWith("error"))
                    .filter(name ->
                            screens.stream().noneMatch(screen -> name.equals(screen) || name.startsWith(screen + "-")))
                    .filter(name -> !name.endsWith("/knots")
                            && !name.matches(".*/paper(-.*)?")
                            && !name.endsWith("/forgetting"))
                    .toList();
            assertThat(orphans).as("templates without a screen").isEmpty();
        }
    }

    /** Thymeleaf replaces a fragment before it asks a condition on the same element, so the condition would be lost. */
    @Test
    void putsNoConditionBesideAReplacedFragment() throws IOException {
        var element = java.util.regex.Pattern.compile("<[\\w:]+((?:\\s+[\\w:.-]+(?:=\"[^\"]*\")?)*)\\s*/?>");
        var replaced = java.util.regex.Pattern.compile("\\sth:(replace|insert)=");
        var asked = java.util.regex.Pattern.compile("\\sth:(if|unless|with)=");
        try (var files = Files.walk(Path.of("src/main/resources/templates"))) {
            for (Path file : files.filter(f -> f.toString().endsWith(".html")).toList()) {
                var found = element.matcher(Files.readString(file));
                while (found.find()) {
                    assertThat(replaced.matcher(found.group(1)).find()
                                    && asked.matcher(found.group(1)).find())
                            .as("%s: %s", file, found.group())
                            .isFalse();
                }
            }
        }
    }
}
