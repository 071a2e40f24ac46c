package idlewright.bench;

import idlewright.bench.rules.Catalogue;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** Reads the catalogue of symptoms, causes and procedures once, at the start. */
@Configuration(proxyBeanMethods = false)
class Knowledge {

    @Bean
    Catalogue catalogue() {
        return Catalogue.load();
    }
}
