package idlewright.ground;

import java.lang.annotation.ElementType;
import java.lang.annotation.Inherited;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import org.junit.jupiter.api.Tag;
import org.springframework.context.annotation.Import;

/**
 * Beside {@code @SpringBootTest}: the application context uses {@link TestDatabase}. The tag is what the run under a
 * container repeats.
 */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@Inherited
@Tag("database")
@Import(TestDatabase.class)
public @interface WithDatabase {}
