export {
  type CardAmount,
  type CardDocument,
  type CardReading,
  type CardSection,
  type CardStep,
  cardDocument,
  cardText,
  STANDING_CAUTION,
} from "./card";
export { cardBody, cardHtml } from "./card-page";
export { COMFORTABLE_LINK, decodeLink, type EncodedLink, encodeLink } from "./link";
