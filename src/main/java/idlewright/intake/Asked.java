package idlewright.intake;

import idlewright.intake.rules.SymptomKinds;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** Reads the counter's questions once, at the start. */
@Configuration(proxyBeanMethods = false)
class Asked {

    @Bean
    SymptomKinds symptomKinds() {
        return SymptomKinds.load();
    }
}
