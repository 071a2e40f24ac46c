package idlewright.frame;

import java.time.Clock;
import org.springframework.boot.autoconfigure.condition.ConditionalOnMissingBean;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** The one clock of the house; tests and the demo maker hang up their own. */
@Configuration(proxyBeanMethods = false)
class ClockOnTheWall {

    @Bean
    @ConditionalOnMissingBean
    MovableClock clock() {
        return new MovableClock(Clock.systemUTC());
    }
}
